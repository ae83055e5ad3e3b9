export type Transmitter = {
  /** Puts bytes on the wire after a delay; what comes while others are under way waits behind them. `sent` is told after the last byte. */
  send(bytes: Uint8Array, afterMs: number, sent?: () => void): void
  close(): void
}

/**
 * Sends at the speed of the line: each byte leaves when its character would be complete. With `characterMs` 0 all leave at once.
 */
export const transmitter = (write: (bytes: Uint8Array) => void, characterMs: number): Transmitter => {
  const waiting: { bytes: Uint8Array; sent: (() => void) | undefined }[] = []
  const timers = new Set<NodeJS.Timeout>()
  let sending = false
  let closed = false

  const later = (ms: number, action: () => void) => {
    const timer = setTimeout(() => {
      timers.delete(timer)
      action()
    }, ms)
    timers.add(timer)
  }

  const next = () => {
    const head = waiting.shift()
    sending = head !== undefined
    if (head === undefined || closed) return
    const { bytes } = head
    const start = performance.now()
    let sent = 0
    const pump = () => {
      if (closed) return
      const due = characterMs > 0 ? Math.min(bytes.length, Math.floor((performance.now() - start) / characterMs)) : bytes.length
      if (due > sent) write(bytes.subarray(sent, due))
      sent = Math.max(sent, due)
      if (sent === bytes.length) {
        head.sent?.()
        return next()
      }
      later(Math.max(1, Math.floor((sent + 1) * characterMs - (performance.now() - start))), pump)
    }
    pump()
  }

  return {
    send(bytes, afterMs, sent) {
      const enqueue = () => {
        waiting.push({ bytes, sent })
        if (!sending) next()
      }
      if (afterMs > 0) later(afterMs, enqueue)
      else enqueue()
    },
    close() {
      closed = true
      for (const timer of timers) clearTimeout(timer)
      timers.clear()
    },
  }
}
