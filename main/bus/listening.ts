import { hasRightCrc } from './crc.ts'

/** Bytes kept while a request that came in pieces is put together. */
const remembered = 300
const rememberedRequests = 8

export type Listening = {
  /** Every frame that we sent, so that its echo or late answer is not taken for somebody's request. */
  sent(frame: Uint8Array): void
  /** Bytes that nobody was asked for, in the order they came and in any pieces. */
  heard(bytes: Uint8Array): void
}

/**
 * Tells when somebody else asks on this line: only a master sends requests. Bytes that are no request are noise and ignored.
 * Limit: answers to FC05, FC06 and FC22 look like requests; those of a unit and function that we asked lately count as answers.
 */
export function createListening(onOtherMaster: (frame: Uint8Array) => void): Listening {
  const ours: Uint8Array[] = []
  let pending = new Uint8Array(0)
  return {
    sent(frame) {
      ours.push(frame)
      if (ours.length > rememberedRequests) ours.shift()
    },
    heard(bytes) {
      pending = Uint8Array.of(...pending, ...bytes)
      for (let found = findRequest(pending); found; found = findRequest(pending)) {
        pending = pending.slice(found.to)
        if (!ours.some((frame) => explains(frame, found.frame, frame === ours.at(-1)))) onOtherMaster(found.frame)
      }
      pending = pending.slice(Math.max(0, pending.length - remembered))
    },
  }
}

/** First whole request with right CRC, wherever it begins: noise may precede it. */
function findRequest(bytes: Uint8Array): { frame: Uint8Array; to: number } | undefined {
  for (let from = 0; from + 4 <= bytes.length; from++) {
    const length = requestLength(bytes.subarray(from))
    if (length !== undefined && hasRightCrc(bytes, from, length)) return { frame: bytes.slice(from, from + length), to: from + length }
  }
  return undefined
}

/**
 * Length of the request that these bytes may begin; absent where they break its limits, so that noise seldom passes.
 * Source: MODBUS Application Protocol V1.1b3, 6.1 to 6.21.
 */
export function requestLength(bytes: Uint8Array): number | undefined {
  const [unit = 0, code = 0] = bytes
  const word = (at: number) => ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0)
  const among = (count: number, most: number, length: number) => (count >= 1 && count <= most ? length : undefined)
  if (unit > 247) return undefined
  switch (code) {
    case 1:
    case 2:
      return among(word(4), 2000, 8)
    case 3:
    case 4:
      return among(word(4), 125, 8)
    case 5:
      return word(4) === 0xff00 || word(4) === 0 ? 8 : undefined
    case 6:
      return 8
    case 15:
      return bytes[6] === Math.ceil(word(4) / 8) ? among(word(4), 1968, 9 + (bytes[6] ?? 0)) : undefined
    case 16:
      return bytes[6] === 2 * word(4) ? among(word(4), 123, 9 + (bytes[6] ?? 0)) : undefined
    case 17:
      return 4
    case 22:
      return 10
    case 23:
      return bytes[10] === 2 * word(8) && word(4) >= 1 && word(4) <= 125 ? among(word(8), 121, 13 + (bytes[10] ?? 0)) : undefined
    case 43:
      return bytes[2] === 0x0e ? 7 : undefined
    default:
      return undefined
  }
}

/** True where a request-like frame is the echo of `ours`, or its late or doubled answer, or its answer under a wrong unit. */
function explains(ours: Uint8Array, frame: Uint8Array, isLast: boolean): boolean {
  if (ours.length === frame.length && ours.every((byte, i) => frame[i] === byte)) return true
  const code = frame[1] ?? 0
  const mayBeAnswer = code === 5 || code === 6 || code === 22 || ((code === 1 || code === 2) && frame[2] === 3)
  if (!mayBeAnswer || code !== ours[1]) return false
  if (frame[0] === ours[0]) return true
  return isLast && (code < 5 || ours.subarray(2, -2).every((byte, i) => frame[i + 2] === byte))
}
