import { InvalidArgumentError } from 'commander'
import { decimalText } from '../../app/quantity/decimal-text.ts'

/** Reads an option as a whole number within limits; commander prints what would be right. */
export const wholeNumber =
  (from: number, to: number) =>
  (text: string): number => {
    const value = /^(0x[0-9a-f]+|\d+)$/i.test(text) ? Number(text) : Number.NaN
    if (!(value >= from && value <= to)) throw new InvalidArgumentError(`A whole number from ${from} to ${to} is needed.`)
    return value
  }

export function seconds(text: string): number {
  const value = decimalText.safeParse(text).success ? Number(text) : Number.NaN
  if (!(value > 0 && value <= 604_800)) throw new InvalidArgumentError('A number of seconds above 0 is needed, e.g. 10 or 0.5.')
  return value
}
