import type { SerialFormat } from '../../app/profile/schema.ts'

/** What the bit rate and character format of a line come to, in milliseconds. */
export type LineTiming = {
  /** One character with start, parity and stop bits. */
  characterMs: number
  /** Silence that separates two frames. */
  silenceMs: number
}

/** Bits on the line for one byte: start bit, eight data bits, parity bit if any, stop bits. */
export const bitsPerCharacter = (format: Pick<SerialFormat, 'parity' | 'stopBits'>): number =>
  9 + (format.parity === 'none' ? 0 : 1) + format.stopBits

/**
 * Silence of 3.5 characters of the real format up to 19,200 bit/s, 1.750 ms above.
 * Source: MODBUS over Serial Line V1.02, 2.5.1.1.
 */
export function lineTiming(format: SerialFormat): LineTiming {
  const characterMs = (bitsPerCharacter(format) * 1000) / format.baud
  return { characterMs, silenceMs: format.baud <= 19_200 ? 3.5 * characterMs : 1.75 }
}

/** Time in ms that `bytes` characters take on the wire without gaps. */
export const wireMs = (timing: LineTiming, bytes: number): number => timing.characterMs * bytes
