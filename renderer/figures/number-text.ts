import { type DecimalSign, formatDecimal, thinSpace } from '../../app/quantity/format.ts'

const isNought = (decimal: string) => !/[1-9]/.test(decimal)
const withoutLostSign = (decimal: string) => (isNought(decimal) ? decimal.replace('-', '') : decimal)

export const numberText = (decimal: string, sign: DecimalSign = '.') => formatDecimal(withoutLostSign(decimal), sign)

/** The same with a plus where it is above nought: for errors and changes. */
export const signedText = (decimal: string, sign: DecimalSign = '.') =>
  (isNought(decimal) || decimal.startsWith('-') ? '' : '+') + numberText(decimal, sign)

/** A double at fixed decimals. What ends in a five there is rounded away from nought, as exact values are: toFixed makes 1.9997 of 1.99975. */
function fixed(value: number, decimals: number): string {
  const shortest = String(value)
  const halfway = shortest.endsWith('5') && !shortest.includes('e') && decimalsOf(shortest) === decimals + 1
  return (halfway ? value + Math.sign(value) * 10 ** -(decimals + 2) : value).toFixed(decimals)
}
export const fixedText = (value: number, decimals: number, sign: DecimalSign = '.') => numberText(fixed(value, decimals), sign)
export const signedFixedText = (value: number, decimals: number, sign: DecimalSign = '.') => signedText(fixed(value, decimals), sign)

/** Decimals written in a decimal text: 0.20 has two. */
export const decimalsOf = (decimal: string) => decimal.split('.')[1]?.length ?? 0

/** "4.2 s", "3 min", for the age of a value. */
export function ageText(ms: number): string {
  if (ms < 10_000) return `${(ms / 1000).toFixed(1)}${thinSpace}s`
  if (ms < 120_000) return `${Math.round(ms / 1000)}${thinSpace}s`
  return `${Math.round(ms / 60_000)}${thinSpace}min`
}

/** Time of day here. Written by hand: a running chart asks for a dozen with every drawing, and the locale's way takes 0.3 ms each. */
export const clockText = (at: Date) =>
  [at.getHours(), at.getMinutes(), at.getSeconds()].map((part) => String(part).padStart(2, '0')).join(':')

export const dateText = (at: Date) => at.toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' })

/** A voltage as it was typed or is held, without decimals that nobody gave; to the millivolt. */
export const voltsText = (volts: number, sign: DecimalSign): string => numberText(String(Number(volts.toFixed(3))), sign)
