import type { SerialFormat } from '../../app/profile/schema.ts'

const parityBit = (byte: number, parity: 'even' | 'odd'): number => {
  let ones = 0
  for (let rest = byte; rest > 0; rest >>= 1) ones += rest & 1
  return parity === 'even' ? ones & 1 : 1 - (ones & 1)
}

/** Levels on the line, one per bit: start bit 0, eight data bits lowest first, parity bit, stop bits 1. */
const levels = (bytes: Uint8Array, format: SerialFormat): number[] =>
  [...bytes].flatMap((byte) => [
    0,
    ...Array.from({ length: 8 }, (_, i) => (byte >> i) & 1),
    ...(format.parity === 'none' ? [] : [parityBit(byte, format.parity)]),
    ...Array.from({ length: format.stopBits }, () => 1),
  ])

const sameFormat = (a: SerialFormat, b: SerialFormat): boolean => a.baud === b.baud && a.parity === b.parity

/**
 * Bytes that a port of format `heard` makes of bytes sent back to back in format `sent`. It looks for a falling edge, takes
 * each bit in its middle, and drops a character whose parity or stop bit is wrong. One stop bit is enough for it.
 */
export const asHeard = (bytes: Uint8Array, sent: SerialFormat, heard: SerialFormat): Uint8Array => {
  if (sameFormat(sent, heard)) return bytes
  const line = levels(bytes, sent)
  const sentBitsPerHeardBit = sent.baud / heard.baud
  const levelAt = (position: number): number => line[Math.floor(position)] ?? 1
  const received: number[] = []
  const dataAndParity = heard.parity === 'none' ? 8 : 9
  let at = 0
  while (at < line.length) {
    const edge = at
    if (levelAt(edge) === 1 || levelAt(edge + sentBitsPerHeardBit / 2) === 1) {
      at = Math.floor(at) + 1
      continue
    }
    const bit = (n: number): number => levelAt(edge + (n + 0.5) * sentBitsPerHeardBit)
    const byte = Array.from({ length: 8 }, (_, i) => bit(i + 1) << i).reduce((sum, value) => sum + value, 0)
    const parityFits = heard.parity === 'none' || bit(9) === parityBit(byte, heard.parity)
    const stopFits = bit(dataAndParity + 1) === 1
    if (parityFits && stopFits) received.push(byte)
    at = edge + (dataAndParity + 1.5) * sentBitsPerHeardBit
    // The next character starts with a falling edge: a line that is low still does not start one.
    while (at < line.length && levelAt(at) === 0) at = Math.floor(at) + 1
  }
  return Uint8Array.from(received)
}
