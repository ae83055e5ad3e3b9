import { performance } from 'node:perf_hooks'

/** Monotonic time in milliseconds and what a bus waits with. An argument everywhere, so that tests own the time. */
export type BusClock = {
  now(): number
  /** Calls once after `ms`; the returned function cancels it. */
  after(ms: number, then: () => void): () => void
  /** Holds the thread until `at`; for the last millisecond of a silence only, which no timer keeps. */
  spinUntil(at: number): void
}

export const systemClock: BusClock = {
  now: () => performance.now(),
  after(ms, then) {
    let immediate: NodeJS.Immediate | undefined
    // After a busy spell timers run before what has already arrived is read: let that in first, so that no deadline cuts it off.
    const timer = setTimeout(
      () => {
        immediate = setImmediate(then)
      },
      Math.max(0, ms),
    )
    return () => {
      clearTimeout(timer)
      clearImmediate(immediate)
    }
  },
  spinUntil(at) {
    while (performance.now() < at) {
      // Nothing else may run here: the point is to leave at `at` and not a timer tick later.
    }
  },
}

export const pause = (clock: BusClock, ms: number): Promise<void> => new Promise((resolve) => clock.after(ms, resolve))

/** Waits until `at` at the earliest, at most a fraction of a millisecond later where the thread is free. */
export async function waitUntil(clock: BusClock, at: number): Promise<void> {
  const left = at - clock.now()
  if (left > 1) await pause(clock, Math.max(1, Math.floor(left - 0.5)))
  clock.spinUntil(at)
}
