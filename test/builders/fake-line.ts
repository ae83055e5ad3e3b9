import { ok } from '../../app/result.ts'
import type { BusClock } from '../../main/bus/bus-clock.ts'
import type { ByteStream, OpenStream } from '../../main/bus/byte-stream.ts'
import { withCrc } from '../../main/bus/crc.ts'

/** Time that only a test moves. Timers fire in order as it is moved past them. */
export function handClock(): BusClock & { advance(ms: number): Promise<void> } {
  let now = 0
  const timers: { at: number; then: () => void }[] = []
  const settle = async () => {
    for (let i = 0; i < 20; i++) await Promise.resolve()
  }
  return {
    now: () => now,
    after(ms, then) {
      const timer = { at: now + Math.max(0, ms), then }
      timers.push(timer)
      return () => {
        const i = timers.indexOf(timer)
        if (i >= 0) timers.splice(i, 1)
      }
    },
    spinUntil(at) {
      now = Math.max(now, at)
    },
    async advance(ms) {
      const until = now + ms
      await settle()
      for (;;) {
        timers.sort((a, b) => a.at - b.at)
        const due = timers[0]
        if (!due || due.at > until) break
        timers.shift()
        now = Math.max(now, due.at)
        due.then()
        await settle()
      }
      now = Math.max(now, until)
      await settle()
    },
  }
}

export const bytes = (text: string): Uint8Array => Uint8Array.from(text.trim().split(/\s+/), (h) => Number.parseInt(h, 16))
export const framed = (text: string): Uint8Array => withCrc(bytes(text))

/** A line whose other end is the test. */
export function fakeLine() {
  const sent: Uint8Array[] = []
  let hear: (b: Uint8Array) => void = () => {}
  let lose: (why: string) => void = () => {}
  let onSent: (frame: Uint8Array) => void = () => {}
  const stream: ByteStream = {
    write(b) {
      sent.push(b)
      onSent(b)
    },
    onBytes(listener) {
      hear = listener
    },
    onClose(listener) {
      lose = listener
    },
    close: async () => {},
  }
  const open: OpenStream = async () => ok(stream)
  return {
    open,
    sent,
    receive: (b: Uint8Array) => hear(b),
    lose: (why: string) => lose(why),
    whenSent(listener: (frame: Uint8Array) => void) {
      onSent = listener
    },
  }
}
