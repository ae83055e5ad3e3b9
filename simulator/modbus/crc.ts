/**
 * CRC-16 of a serial-line frame over address and PDU, as a number; it travels low byte first.
 * Source: MODBUS over Serial Line V1.02, 2.5.1.2 (start FFFF, polynomial A001 reflected).
 */
export const crc16 = (bytes: Uint8Array): number => {
  let crc = 0xffff
  for (const byte of bytes) {
    crc ^= byte
    for (let i = 0; i < 8; i++) crc = crc & 1 ? (crc >>> 1) ^ 0xa001 : crc >>> 1
  }
  return crc
}

/** Address, PDU and CRC as they stand on the wire. */
export const rtuFrame = (unit: number, pdu: Uint8Array): Uint8Array => {
  const body = Uint8Array.of(unit, ...pdu)
  const crc = crc16(body)
  return Uint8Array.of(...body, crc & 0xff, crc >>> 8)
}

/** True where the last two bytes are the CRC of those before. */
export const crcFits = (frame: Uint8Array): boolean => {
  if (frame.length < 4) return false
  const crc = crc16(frame.subarray(0, -2))
  return frame.at(-2) === (crc & 0xff) && frame.at(-1) === crc >>> 8
}
