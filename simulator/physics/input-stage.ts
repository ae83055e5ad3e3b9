import { gaussianAt } from './noise.ts'

/** What stands before and inside the converter while nothing is changed. */
export type InputConditions = {
  signalMvPerV: number
  noiseMicrovolt: number
  excitationVolt: number
  /** The converter saturates at plus and minus this. */
  rangeMvPerV: number
  filterSeconds: number
}

export type InputState = {
  /** Filtered signal. */
  signalMvPerV: number
  /** Latest converter sample lay beyond the range. */
  over: boolean
  under: boolean
  /** Largest less smallest filtered signal of the last half second. */
  spreadMvPerV: number
}

export type InputStage = {
  /** Carries the input on to this time under conditions that held since the last call. Time never runs back. */
  advance(nowMs: number, conditions: InputConditions): void
  state(): InputState
}

const resolutionBits = 24
const spreadSeconds = 0.5
/** After this many time constants what was before does not show any more. */
const settledAfter = 40

/**
 * Converter samples at a fixed rate, each with its own noise, clipped to the range, in steps of the resolution, then a
 * first-order low-pass. Everything follows from seed, times and conditions alone.
 */
export const inputStage = (options: { seed: number; startMs: number; rateHz: number }): InputStage => {
  const { seed, startMs, rateHz } = options
  const recent: number[] = []
  const keep = Math.max(2, Math.round(spreadSeconds * rateHz))
  let next = 0
  let filtered: number | undefined
  let over = false
  let under = false

  const sample = (index: number, c: InputConditions): number => {
    const analog = c.signalMvPerV + (gaussianAt(seed, index) * c.noiseMicrovolt) / 1000 / c.excitationVolt
    over = analog > c.rangeMvPerV
    under = analog < -c.rangeMvPerV
    const clipped = Math.min(c.rangeMvPerV, Math.max(-c.rangeMvPerV, analog))
    const step = c.rangeMvPerV / 2 ** (resolutionBits - 1)
    return Math.round(clipped / step) * step
  }

  return {
    advance(nowMs, conditions) {
      const last = Math.floor(((nowMs - startMs) * rateHz) / 1000)
      const samplesToSettle = Math.ceil(settledAfter * conditions.filterSeconds * rateHz) + keep
      if (last - next > samplesToSettle) next = last - samplesToSettle
      const gain = conditions.filterSeconds > 0 ? 1 - Math.exp(-1 / (rateHz * conditions.filterSeconds)) : 1
      for (; next <= last; next++) {
        const value = sample(next, conditions)
        filtered = filtered === undefined ? value : filtered + gain * (value - filtered)
        recent.push(filtered)
        if (recent.length > keep) recent.shift()
      }
    },
    state: () => ({
      signalMvPerV: filtered ?? 0,
      over,
      under,
      spreadMvPerV: recent.length === 0 ? 0 : Math.max(...recent) - Math.min(...recent),
    }),
  }
}
