import { compareExact, exact, exactFromNumber } from '../quantity/exact.ts'

const bits = new DataView(new ArrayBuffer(4))

function neighbour(value: number, steps: 1 | -1): number {
  bits.setFloat32(0, value)
  const raw = bits.getInt32(0)
  bits.setInt32(0, raw + (value < 0 ? -steps : steps))
  return bits.getFloat32(0)
}

/**
 * The single-precision float nearest to a decimal text; ties go to the even one. Infinity where none is near.
 * Going through a double can round twice, so the neighbours are compared exactly.
 * Source: IEEE 754-2019, roundTiesToEven.
 */
export function nearestFloat32(text: string): number {
  const guess = Math.fround(Number(text))
  if (!Number.isFinite(guess) || guess === 0) return guess
  const wanted = exact(text)
  const distance = (candidate: number) => {
    const d = wanted.sub(exactFromNumber(candidate))
    return compareExact(d, exact('0')) < 0 ? d.neg() : d
  }
  return [neighbour(guess, 1), neighbour(guess, -1)]
    .filter(Number.isFinite)
    .reduce((best, candidate) => (compareExact(distance(candidate), distance(best)) < 0 ? candidate : best), guess)
}

/** Shortest plain decimal that names this single and no other: 2.001 rather than 2.000999927520752. */
export function shortestText(single: number): string {
  if (single === 0) return '0'
  for (let digits = 1; digits <= 9; digits++) {
    const text = single.toPrecision(digits)
    if (Math.fround(Number(text)) === single) return plain(text)
  }
  return plain(single.toPrecision(9))
}

/** Decimal text without an exponent. */
function plain(text: string): string {
  const [mantissa = '', exponent = '0'] = text.split('e')
  const shift = Number(exponent)
  if (shift === 0 && !text.includes('e')) return text.includes('.') ? text.replace(/\.?0+$/, '') : text
  const sign = mantissa.startsWith('-') ? '-' : ''
  const [units = '', fraction = ''] = mantissa.replace('-', '').split('.')
  const digits = units + fraction
  const point = units.length + shift
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`.replace(/0+$/, '')
  if (point >= digits.length) return sign + digits + '0'.repeat(point - digits.length)
  return `${sign}${digits.slice(0, point)}.${digits.slice(point)}`.replace(/\.?0+$/, '')
}
