/**
 * CRC-16 of a Modbus RTU frame over `length` bytes from `from`: start FFFF, reflected polynomial A001, no final exclusive-or.
 * Sent low byte first. Source: MODBUS over Serial Line V1.02, 2.5.1 and 6.2.2.
 */
export function crc16(bytes: Uint8Array, from = 0, length = bytes.length - from): number {
  let crc = 0xffff
  for (let i = from; i < from + length; i++) {
    crc ^= bytes[i] ?? 0
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >> 1) ^ 0xa001 : crc >> 1
  }
  return crc
}

/** The frame with its CRC appended, low byte first. */
export function withCrc(body: Uint8Array): Uint8Array {
  const frame = new Uint8Array(body.length + 2)
  frame.set(body)
  const crc = crc16(body)
  frame[body.length] = crc & 0xff
  frame[body.length + 1] = crc >> 8
  return frame
}

/** True where the last two of `length` bytes from `from` are the right CRC of those before them. */
export function hasRightCrc(bytes: Uint8Array, from = 0, length = bytes.length - from): boolean {
  if (length < 4 || from + length > bytes.length) return false
  const crc = crc16(bytes, from, length - 2)
  return bytes[from + length - 2] === (crc & 0xff) && bytes[from + length - 1] === crc >> 8
}
