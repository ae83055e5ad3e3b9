import { compareExact, exact } from '../quantity/exact.ts'
import { decode } from './codec.ts'
import type { ByteOrder, Register } from './schema.ts'
import { wordCount } from './words.ts'

/** One way to understand what stands at an address. `decimals` is absent for a float, which carries its own. */
export type Shape = { address: number; type: Register['type']; order: ByteOrder; decimals?: number | undefined }

/** exact: the very number displayed. rounded: rounds to it in the display's digits. */
export type Agreement = 'exact' | 'rounded' | 'no'

/** `text` is null where the words are no number in this shape. */
export type Candidate = Shape & { text: string | null; agrees: Agreement }

/** Orders that hardly any unit has: what agrees in one of them agrees by chance, as a rule. Common practice, no source. */
const rareOrders: readonly ByteOrder[] = ['BA', 'BADC', 'DCBA']

/** Six for signals in mV/V. */
const usualDecimals = [0, 1, 2, 3, 4, 5, 6]
const narrow = ['u16', 'i16'] as const
const wide = ['u32', 'i32', 'f32'] as const
const shapes: readonly Pick<Shape, 'type' | 'order'>[] = [
  ...narrow.flatMap((type) => (['AB', 'BA'] as const).map((order) => ({ type, order }))),
  ...wide.flatMap((type) => (['ABCD', 'CDAB', 'BADC', 'DCBA'] as const).map((order) => ({ type, order }))),
]

/**
 * Every type, order and number of decimals that the words of a block could have, side by side, in order of address.
 * `words` start at `address`; null where an address could not be read. `display` is what the front panel shows now, as typed.
 */
export function viewRegisters(
  address: number,
  words: readonly (number | null)[],
  display?: string,
  decimals: readonly number[] = usualDecimals,
): Candidate[] {
  return words.flatMap((_, i) =>
    shapes.flatMap(({ type, order }) => {
      const held = words.slice(i, i + wordCount(type))
      if (held.length < wordCount(type) || held.includes(null)) return []
      const ways: Shape[] =
        type === 'f32' ? [{ address: address + i, type, order }] : decimals.map((d) => ({ address: address + i, type, order, decimals: d }))
      return ways.map((shape): Candidate => {
        const text = decode({ name: 'x', ...shape }, held as number[])
        return { ...shape, text, agrees: agreement(text, display) }
      })
    }),
  )
}

/** Does a value agree with what a display shows? A display rounds to its digits, so half of its last digit is allowed. */
export function agreement(text: string | null, display: string | undefined): Agreement {
  if (text === null || display === undefined || !/^-?\d+(\.\d+)?$/.test(display)) return 'no'
  const apart = exact(text).sub(exact(display)).abs()
  if (compareExact(apart, exact('0')) === 0) return 'exact'
  const digits = display.split('.')[1]?.length ?? 0
  return compareExact(apart, exact(`0.${'0'.repeat(digits)}5`)) <= 0 ? 'rounded' : 'no'
}

/**
 * Only what agrees with a display, as fast as a search over thousands of registers needs: most shapes are ruled out by a float
 * before the exact comparison. Null at an address that could not be read, or that another piece of the search brings.
 */
export function agreeingCandidates(
  address: number,
  words: readonly (number | null)[],
  display: string,
  decimals: readonly number[] = usualDecimals,
): Candidate[] {
  const shown = Number(display)
  const half = 0.5 * 10 ** -(display.split('.')[1]?.length ?? 0)
  const near = half * 1.01 + Math.abs(shown) * 1e-12
  return words.flatMap((_, i) =>
    shapes.flatMap(({ type, order }) => {
      const held = words.slice(i, i + wordCount(type))
      if (held.length < wordCount(type) || held.includes(null)) return []
      const whole = Number(decode({ name: 'x', type, order }, held as number[]) ?? Number.NaN)
      const ways: Shape[] =
        type === 'f32' ? [{ address: address + i, type, order }] : decimals.map((d) => ({ address: address + i, type, order, decimals: d }))
      return ways
        .filter((way) => Math.abs(whole / 10 ** (way.decimals ?? 0) - shown) <= near)
        .flatMap((shape): Candidate[] => {
          const text = decode({ name: 'x', ...shape }, held as number[])
          const agrees = agreement(text, display)
          return agrees === 'no' ? [] : [{ ...shape, text, agrees }]
        })
    }),
  )
}

type Ranked = Pick<Candidate, 'address' | 'order' | 'agrees'>
const rank = ({ agrees, order }: Ranked) => Number(agrees !== 'exact') + (rareOrders.includes(order) ? 2 : 0)

/** What is likeliest to be meant first: usual orders before rare ones, the very number before a rounded one, then by address. */
export const likeliestFirst = <C extends Ranked>(list: readonly C[]): C[] =>
  [...list].sort((a, b) => rank(a) - rank(b) || a.address - b.address)

const shapeKey = ({ address, type, order, decimals }: Shape) => `${address} ${type} ${order} ${decimals ?? '-'}`

/** Those that agreed before and agree again under another load: one look alone leaves many, a second one few. */
export function stillAgree(before: readonly (Shape & { agrees: Agreement })[], now: readonly Candidate[]): Candidate[] {
  const agreed = new Set(before.filter((c) => c.agrees !== 'no').map(shapeKey))
  return now.filter((c) => c.agrees !== 'no' && agreed.has(shapeKey(c)))
}
