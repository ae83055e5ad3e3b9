import { hasRightCrc } from './crc.ts'

const fixedRequestLength = 8
const shortestMultiple = 9

/**
 * First whole Modbus request in a block of bytes that we did not ask for, with a right CRC; null where there is none.
 * Only a master sends requests, so one is proof of a second master; other bytes are noise or a late answer.
 * Answers that look like a request (single writes, which repeat it) are told apart by `isOurs`.
 * Source of the lengths: MODBUS Application Protocol V1.1b3, section 6.
 */
export function foreignRequest(bytes: Uint8Array, isOurs: (frame: Uint8Array) => boolean): Uint8Array | null {
  for (let from = 0; from + 4 <= bytes.length; from++) {
    const length = requestLength(bytes, from)
    if (length === null || from + length > bytes.length) continue
    const frame = bytes.slice(from, from + length)
    if (hasRightCrc(frame) && !isOurs(frame)) return frame
  }
  return null
}

function requestLength(bytes: Uint8Array, from: number): number | null {
  const [unit = 0, code = 0] = [bytes[from], bytes[from + 1]]
  if (unit > 247) return null
  switch (code) {
    case 1:
    case 2:
    case 3:
    case 4:
    case 5:
    case 6:
      return fixedRequestLength
    case 15:
    case 16: {
      const count = bytes[from + 6]
      return count === undefined ? null : shortestMultiple + count
    }
    case 17:
      return 4
    case 22:
      return 10
    case 23: {
      const count = bytes[from + 10]
      return count === undefined ? null : 13 + count
    }
    case 43:
      return 7
    default:
      return null
  }
}
