import { exitCode } from './exit-codes.ts'

export type Interrupts = {
  /** Aborted by the first Ctrl-C, unless something is `guarded`. */
  readonly signal: AbortSignal
  /** True after any Ctrl-C, also one that a guarded work was not disturbed by. */
  pressed(): boolean
  /** Work that must reach its own safe end: the first Ctrl-C is told to `first`, the next one to `again`. */
  guarded<T>(work: Promise<T>, on: { first(): void; again(): void }): Promise<T>
  close(): void
}

/** One key press may arrive twice: from the terminal and passed on by the program that started this one. */
const onePressMs = 500

/** Ctrl-C and the signals that mean the same; once, too, that nobody reads the output any more, as after `| head`. */
export function watchInterrupts(now: () => number = () => performance.now()): Interrupts {
  const controller = new AbortController()
  let guard: { first(): void; again(): void } | null = null
  let presses = 0
  let lastAt = Number.NEGATIVE_INFINITY
  const press = () => {
    const at = now()
    if (at - lastAt < onePressMs) return
    lastAt = at
    presses++
    if (guard) {
      if (presses === 1) guard.first()
      else guard.again()
    } else if (controller.signal.aborted) process.exit(exitCode.interrupted)
    else controller.abort()
  }
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const
  for (const signal of signals) process.on(signal, press)
  let unread = false
  const noReader = (problem: NodeJS.ErrnoException) => {
    if (unread || problem.code !== 'EPIPE') return
    unread = true
    press()
  }
  process.stdout.on('error', noReader)
  return {
    signal: controller.signal,
    pressed: () => presses > 0,
    async guarded(work, on) {
      guard = on
      try {
        return await work
      } finally {
        guard = null
        if (presses > 0) controller.abort()
      }
    },
    close() {
      for (const signal of signals) process.removeListener(signal, press)
      process.stdout.removeListener('error', noReader)
    },
  }
}
