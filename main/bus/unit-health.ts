import type { BusClock } from './bus-clock.ts'

const triesBeforeSetAside = 3
const leastProbeMs = 5_000
const probesPerTimeouts = 60
/** An operating system is late by a few milliseconds now and then. Common practice, no source. */
const leastProbeWaitMs = 20
const rememberedTimes = 50
/** How fast a learned answer time comes down again after a slow answer; it goes up at once. */
const unlearn = 1 / 8

/** How one unit has been answering, and when it may be asked again after silence. Times in milliseconds. */
export type UnitHealth = {
  /**
   * `tookMs` is absent where something answered but not the unit in its own time, as with an exception; `ownMs` is its part
   * without the characters on the wire, which a deadline counts anyway.
   */
  answered(tookMs?: number, ownMs?: number): void
  /** `costMs`: how long nobody else could be asked. `firstMs` is what the profile states. */
  silent(costMs: number, firstMs: number): void
  /** Milliseconds until the next probe of a unit that is set aside; null where it is not, or a probe is due. */
  restsFor(): number | null
  isSetAside(): boolean
  /** Three times the learned answer time, 20 ms at least, for a probe; `firstMs` is what the profile states, until one was measured. */
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
  const probeWaitMs = (firstMs: number) => Math.max(leastProbeWaitMs, 3 * (learnedMs ?? firstMs))
  return {
    answered(tookMs, ownMs = tookMs) {
      silentTries = 0
      state = 'answering'
      if (tookMs === undefined || ownMs === undefined) return
      learnedMs = learnedMs === undefined || ownMs > learnedMs ? ownMs : learnedMs + (ownMs - learnedMs) * unlearn
      times.push(tookMs)
      if (times.length > rememberedTimes) times.shift()
    },
    silent(costMs, firstMs) {
      silentTries++
      state = 'silent'
      if (!isSetAside()) return
      const nextCostMs = Math.min(costMs, 2 * probeWaitMs(firstMs))
      nextProbeAt = clock.now() + Math.max(leastProbeMs, probesPerTimeouts * nextCostMs)
    },
    restsFor: () => (isSetAside() && clock.now() < nextProbeAt ? nextProbeAt - clock.now() : null),
    isSetAside,
    probeWaitMs,
    state: () => state,
    times: () => times,
  }
}
