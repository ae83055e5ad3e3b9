/** Bytes of a hexadecimal text, spaces ignored. */
export const bytes = (hex: string): Uint8Array =>
  Uint8Array.from(hex.replaceAll(/\s/g, '').match(/../g) ?? [], (pair) => Number.parseInt(pair, 16))

/** Hexadecimal text of bytes, upper case, one space between. */
export const hex = (data: Iterable<number>): string => [...data].map((byte) => byte.toString(16).padStart(2, '0').toUpperCase()).join(' ')
