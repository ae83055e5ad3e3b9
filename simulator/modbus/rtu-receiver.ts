import { crcFits } from './crc.ts'

export type HeardFrame = { unit: number; pdu: Uint8Array }

const longestFrame = 256

/** Length of the request frame that starts with these bytes; `more` while it cannot be told yet, `unknown` where only silence ends it. */
export const requestLength = (bytes: Uint8Array): number | 'more' | 'unknown' => {
  const counted = (at: number, rest: number): number | 'more' => {
    const count = bytes[at]
    return count === undefined ? 'more' : rest + count
  }
  switch (bytes[1]) {
    case undefined:
      return 'more'
    case 0x01:
    case 0x02:
    case 0x03:
    case 0x04:
    case 0x05:
    case 0x06:
    case 0x08:
      return 8
    case 0x07:
    case 0x11:
      return 4
    case 0x0f:
    case 0x10:
      return counted(6, 9)
    case 0x16:
      return 10
    case 0x17:
      return counted(10, 13)
    case 0x2b:
      return 7
    default:
      return 'unknown'
  }
}

export type RtuReceiver = {
  take(bytes: Uint8Array): void
  /** Forgets what has come in so far. */
  clear(): void
  close(): void
}

/**
 * Finds request frames in a stream of bytes. A frame ends where its function says, or at a silence where the function
 * does not say or the CRC did not fit there; what is no frame by then is dropped and the next byte starts afresh.
 */
export const rtuReceiver = (options: { silenceMs: number; onFrame: (frame: HeardFrame) => void }): RtuReceiver => {
  let held = new Uint8Array(0)
  let timer: NodeJS.Timeout | undefined
  let arrivals = 0
  let closed = false

  const deliver = (frame: Uint8Array) => options.onFrame({ unit: frame[0] ?? 0, pdu: frame.slice(1, -2) })

  const atSilence = (arrivalsThen: number) => {
    if (closed || arrivals !== arrivalsThen) return
    const frame = held
    held = new Uint8Array(0)
    if (frame.length <= longestFrame && crcFits(frame)) deliver(frame)
  }

  const takeWholeFrames = () => {
    for (;;) {
      const length = requestLength(held)
      if (typeof length !== 'number' || held.length < length) return
      const frame = held.slice(0, length)
      if (!crcFits(frame)) return
      held = held.slice(length)
      deliver(frame)
    }
  }

  return {
    take(bytes) {
      if (closed) return
      arrivals += 1
      clearTimeout(timer)
      if (held.length < 2 * longestFrame) held = Uint8Array.of(...held, ...bytes)
      takeWholeFrames()
      if (held.length === 0) return
      const arrivalsNow = arrivals
      // A busy process may run its timers before it sees bytes that came in time: look once more before calling it silence.
      timer = setTimeout(() => setImmediate(atSilence, arrivalsNow), options.silenceMs)
    },
    clear() {
      clearTimeout(timer)
      held = new Uint8Array(0)
    },
    close() {
      closed = true
      clearTimeout(timer)
    },
  }
}
