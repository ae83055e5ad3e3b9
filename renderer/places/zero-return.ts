import type { Point } from '../../app/job/schema.ts'
import type { DecimalSign } from '../../app/quantity/format.ts'
import { decimalsOf, fixedText, signedFixedText } from '../figures/number-text.ts'

/** How far the last zero is from the first, and where the first stood: a zero that returns well may still stand wrong. */
export function zeroReturnWords(difference: number, first: number, { unit, scaleInterval }: Point, sign: DecimalSign): string {
  const decimals = decimalsOf(scaleInterval)
  return `Zero returned within ${fixedText(Math.abs(difference), decimals, sign)} ${unit} of the first zero (${signedFixedText(first, decimals, sign)} ${unit}).`
}
