import { type Exact, exactDecimal, orderOf, toDecimal, zero } from './exact.ts'
import { type UnitId, units } from './units.ts'

export type DecimalSign = '.' | ','

export const thinSpace = '\u2009'
export const minusSign = '\u2212'
const noBreakSpace = '\u00a0'

const fromLeft = (digits: string) => digits.replace(/(\d{3})(?=\d)/g, `$1${thinSpace}`)
const fromRight = (digits: string) => digits.replace(/\B(?=(\d{3})+$)/g, thinSpace)

/**
 * A decimal text as print shows it: groups of three by a thin space on either side of the decimal sign, a real minus.
 * Four digits stay together. Every digit given is shown, none is added; a power of ten (1.5e-38) keeps its sign.
 * Source: ISO 80000-1 (numbers); NIST SP 811 (2008) 10.5.3 for the four digits.
 */
export function formatDecimal(text: string, decimalSign: DecimalSign): string {
  const negative = text.startsWith('-')
  const [digits = '', power] = text.replace(/^-/, '').split('e')
  const [whole = '', fraction = ''] = digits.split('.')
  const left = whole.length > 4 ? fromRight(whole) : whole
  const right = fraction.length > 4 ? fromLeft(fraction) : fraction
  const printed = (negative ? minusSign : '') + left + (right && decimalSign + right)
  return power === undefined ? printed : `${printed}e${power.replace('-', minusSign).replace('+', '')}`
}

/** Like `formatDecimal`, with the unit's printed symbol after a no-break space. */
export const formatQuantity = (value: string, unit: UnitId, decimalSign: DecimalSign): string =>
  formatDecimal(value, decimalSign) + noBreakSpace + units[unit].symbol

/** A number as printed, with the plus-minus sign before it; the two never part at the end of a line. */
export const plusMinus = (printed: string) => `±${noBreakSpace}${printed}`

/** Decimals that show a value to the place of its resolution (scale interval, digit, uncertainty) and no finer: 0.05 gives 2, 20 gives 0. */
export function decimalsWorth(resolution: Exact): number {
  const finite = exactDecimal(resolution.abs())
  const whole = Math.max(0, -orderOf(resolution))
  // 0.25 needs its second decimal; 1/3 is worth its first
  return finite === undefined ? whole : Math.max(whole, Math.min(whole + 2, finite.split('.')[1]?.length ?? 0))
}

/** An exact value with the decimals fixed, halves away from zero. A plus is set before what is above nought where `signed`. */
export function formatExact(value: Exact, decimals: number, decimalSign: DecimalSign, signed = false): string {
  const text = toDecimal(value, decimals)
  return (signed && value.gt(zero) && /[1-9]/.test(text) ? '+' : '') + formatDecimal(text, decimalSign)
}
