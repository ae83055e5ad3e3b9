import { appliedKind } from '../../app/applied-words.ts'
import type { Point } from '../../app/job/schema.ts'
import type { DecimalSign } from '../../app/quantity/format.ts'
import { decimalsOf, fixedText, signedFixedText } from '../figures/number-text.ts'

/** How far the last zero is from the first, and where the first stood: a zero that returns well may still stand wrong. */
export function zeroReturnWords(difference: number, first: number, point: Point, sign: DecimalSign): string {
  const { unit, scaleInterval } = point
  const decimals = decimalsOf(scaleInterval)
  if (appliedKind(point) === 'absolute')
    return `Back at air pressure it read within ${fixedText(Math.abs(difference), decimals, sign)} ${unit} of the first time (${fixedText(first, decimals, sign)} ${unit}).`
  return `Zero returned within ${fixedText(Math.abs(difference), decimals, sign)} ${unit} of the first zero (${signedFixedText(first, decimals, sign)} ${unit}).`
}
