import { setTimeout as delay } from 'node:timers/promises'
import type { HostClock } from './world.ts'

/** The clock of this computer: monotonic milliseconds for timing, UTC text for what is kept. */
export const nodeClock: HostClock = {
  now: () => performance.now(),
  pause: async (ms) => {
    await delay(ms)
  },
  stamp: () => new Date().toISOString(),
  zone: () => Intl.DateTimeFormat().resolvedOptions().timeZone,
}
