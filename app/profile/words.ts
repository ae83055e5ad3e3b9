import type { ByteOrder, Register } from './schema.ts'

/** How many registers a value of this type takes. */
export const wordCount = (type: Register['type']): 1 | 2 => (type === 'u16' || type === 'i16' ? 1 : 2)

const swapBytes = (word: number) => ((word & 0xff) << 8) | (word >>> 8)

/**
 * Unsigned integer held by the words of one register, in the byte order of the wire.
 * A is the most significant byte; CDAB is "words swapped", BADC "bytes swapped in each word".
 */
export function joinWords(words: readonly number[], order: ByteOrder): number {
  const byteSwapped = order === 'BA' || order === 'BADC' || order === 'DCBA' ? words.map(swapBytes) : [...words]
  const highFirst = order === 'CDAB' || order === 'DCBA' ? byteSwapped.reverse() : byteSwapped
  return highFirst.reduce((whole, word) => whole * 0x10000 + word, 0)
}

/** Inverse of `joinWords`: 16 or 32 bits, as many words as the order names. */
export function splitWords(unsigned: number, order: ByteOrder): number[] {
  const highFirst = order.length === 2 ? [unsigned] : [Math.floor(unsigned / 0x10000), unsigned % 0x10000]
  const placed = order === 'CDAB' || order === 'DCBA' ? highFirst.reverse() : highFirst
  return order === 'BA' || order === 'BADC' || order === 'DCBA' ? placed.map(swapBytes) : placed
}

const view = new DataView(new ArrayBuffer(4))

export function floatFromBits(bits: number): number {
  view.setUint32(0, bits)
  return view.getFloat32(0)
}

export function bitsFromFloat(value: number): number {
  view.setFloat32(0, value)
  return view.getUint32(0)
}
