import Fraction from 'fraction.js'

/** An exact rational number. Its methods (add, sub, mul, div, neg, abs) give new ones; `lt`, `lte`, `gt`, `gte`, `equals` compare exactly. */
export type Exact = Fraction

const decimal = /^-?\d+(\.\d+)?$/

function fromDecimal(text: string): Exact {
  if (!decimal.test(text)) throw new RangeError(`"${text}" is not a decimal number with a point`)
  const [whole = '', fraction = ''] = text.split('.')
  return new Fraction(BigInt(whole + fraction), 10n ** BigInt(fraction.length))
}

/** From a decimal text with a point ("-2.0010"), or a quotient of two ("101325/760"). Any other text is a programming mistake and throws. */
export function exact(text: string): Exact {
  const [numerator = '', denominator, ...more] = text.split('/')
  if (more.length > 0) throw new RangeError(`"${text}" has more than one stroke`)
  return denominator === undefined ? fromDecimal(numerator) : fromDecimal(numerator).div(fromDecimal(denominator))
}

export const zero = exact('0')
export const one = exact('1')
export const fromInteger = (whole: number | bigint): Exact => new Fraction(BigInt(whole), 1n)

/** 10 to a whole power, positive or negative. */
export const powerOfTen = (power: number): Exact =>
  power >= 0 ? new Fraction(10n ** BigInt(power), 1n) : new Fraction(1n, 10n ** BigInt(-power))

const bits = new DataView(new ArrayBuffer(8))

/** The very value that a finite double holds, not the decimal it prints as. Source: IEEE 754-2019, binary64. */
export function exactFromNumber(value: number): Exact {
  if (!Number.isFinite(value)) throw new RangeError(`${value} is not a finite number`)
  bits.setFloat64(0, value)
  const raw = bits.getBigUint64(0)
  const exponent = Number((raw >> 52n) & 0x7ffn)
  const fraction = raw & 0xfffffffffffffn
  const mantissa = exponent === 0 ? fraction : fraction | (1n << 52n)
  const power = Math.max(exponent, 1) - 1075
  const magnitude = power >= 0 ? new Fraction(mantissa << BigInt(power), 1n) : new Fraction(mantissa, 1n << BigInt(-power))
  return raw >> 63n === 1n ? magnitude.neg() : magnitude
}

/** Less than, equal to or greater than nought as a is to b. */
export const compareExact = (a: Exact, b: Exact): number => a.compare(b)

/** Nearest whole number, halves away from zero. */
export function roundToInteger(value: Exact): bigint {
  const doubled = 2n * value.n + value.d
  return value.s * (doubled / (2n * value.d))
}

function shifted(whole: bigint, decimals: number): string {
  const digits = (whole < 0n ? -whole : whole).toString().padStart(decimals + 1, '0')
  const sign = whole < 0n ? '-' : ''
  return decimals === 0 ? sign + digits : `${sign}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`
}

/**
 * Decimal text with exactly so many decimals, halves rounded away from zero, as indicators and people with a calculator do
 * (ISO 80000-1:2009 Annex B, rule B, for the magnitude). Never "-0.00".
 */
export const toDecimal = (value: Exact, decimals: number): string => shifted(roundToInteger(value.mul(powerOfTen(decimals))), decimals)

/** The exact decimal text where a finite one exists, without needless noughts; otherwise undefined (1/3). */
export function exactDecimal(value: Exact): string | undefined {
  let [rest, twos, fives] = [value.d, 0, 0]
  for (; rest % 2n === 0n; rest /= 2n) twos++
  for (; rest % 5n === 0n; rest /= 5n) fives++
  return rest === 1n ? toDecimal(value, Math.max(twos, fives)) : undefined
}

/** Decimal text to so many significant digits, trailing noughts kept; for showing and for the report, not for further arithmetic. */
export function toSignificant(value: Exact, digits: number): string {
  if (value.n === 0n) return '0'
  const decimals = digits - 1 - orderOf(value)
  const text = toDecimal(value, Math.max(0, decimals))
  // 9.996 to three digits is 10.0, not 10.00
  const carried = orderOf(exact(text)) > orderOf(value) && decimals > 0
  return carried ? toDecimal(value, decimals - 1) : text
}

/** Power of ten of the first significant digit: 2 for 350, -3 for 0.0042. */
export function orderOf(value: Exact): number {
  if (value.n === 0n) return 0
  const magnitude = value.abs()
  let order = value.n.toString().length - value.d.toString().length
  if (magnitude.lt(powerOfTen(order))) order--
  return order
}

export const minimum = (first: Exact, ...rest: Exact[]): Exact => rest.reduce((least, v) => (v.lt(least) ? v : least), first)
export const maximum = (first: Exact, ...rest: Exact[]): Exact => rest.reduce((most, v) => (v.gt(most) ? v : most), first)
export const sum = (values: readonly Exact[]): Exact => values.reduce((total, v) => total.add(v), zero)
