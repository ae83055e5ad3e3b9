import type { BusClock } from './bus-clock.ts'

const triesBeforeSetAside = 3
const leastProbeMs = 5_000
const probesPerTimeouts = 60
const rememberedTimes = 50
/** How fast a learned answer time comes down again after a slow answer; it goes up at once. */
const unlearn = 1 / 8

/** How one unit has been answering, and when it may be asked again after silence. Times in milliseconds. */
export type UnitHealth = {
  /** `tookMs` is absent where something answered but not the unit in its own time, as with an exception. */
  answered(tookMs?: number): void
  silent(waitedMs: number): void
  /** Milliseconds until the next probe of a unit that is set aside; null where it is not, or a probe is due. */
  restsFor(): number | null
  isSetAside(): boolean
  /** Three times the learned answer time, for a probe; `firstMs` is what the profile states, until one was measured. */
  probeWaitMs(firstMs: number): number
  state(): 'unknown' | 'answering' | 'silent'
  times(): readonly number[]
}

export function unitHealth(clock: BusClock): UnitHealth {
  let silentTries = 0
  let nextProbeAt = 0
  let learnedMs: number | undefined
  let state: 'unknown' | 'answering' | 'silent' = 'unknown'
  const times: number[] = []
  const isSetAside = () => silentTries >= triesBeforeSetAside
  return {
    answered(tookMs) {
      silentTries = 0
      state = 'answering'
      if (tookMs === undefined) return
      learnedMs = learnedMs === undefined || tookMs > learnedMs ? tookMs : learnedMs + (tookMs - learnedMs) * unlearn
      times.push(tookMs)
      if (times.length > rememberedTimes) times.shift()
    },
    silent(waitedMs) {
      silentTries++
      state = 'silent'
      if (isSetAside()) nextProbeAt = clock.now() + Math.max(leastProbeMs, probesPerTimeouts * waitedMs)
    },
    restsFor: () => (isSetAside() && clock.now() < nextProbeAt ? nextProbeAt - clock.now() : null),
    isSetAside,
    probeWaitMs: (firstMs) => 3 * (learnedMs ?? firstMs),
    state: () => state,
    times: () => times,
  }
}
