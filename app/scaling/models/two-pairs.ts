import { fail, ok, type Result } from '../../result.ts'
import type { ImpliedFailure } from '../implied-failure.ts'
import { channelRegister } from '../reading-settings.ts'
import { type HeldReader, type HeldSpan, perMillivoltPerVolt, type ScalingModel, signalUnitOf } from '../scaling-model.ts'
import { fitPairs } from './pairs.ts'

const names = {
  lowerSignal: 'scale.lower.signal',
  lowerReading: 'scale.lower.reading',
  upperSignal: 'scale.upper.signal',
  upperReading: 'scale.upper.reading',
} as const

/** Two pairs of signal and reading. */
export const twoPairs: ScalingModel = {
  fit(c) {
    const signalUnit = signalUnitOf(c.profile, channelRegister(c.profile, names.upperSignal, c.point.channel))
    const perSignal = perMillivoltPerVolt(c, signalUnit)
    if (!perSignal.ok) return perSignal
    return fitPairs(c, names, perSignal.value, signalUnit, c.profile.scaling.model === 'two-pairs' && c.profile.scaling.pairAboveMaximum)
  },
  heldSpan: (held) => heldSpanOf(held, names),
}

/** Signal and reading between two pairs held under these names. */
export function heldSpanOf(
  held: HeldReader,
  registers: typeof names | Record<keyof typeof names, string>,
): Result<HeldSpan, ImpliedFailure> {
  const [s1, r1] = [held.number(registers.lowerSignal), held.number(registers.lowerReading)]
  const [s2, r2] = [held.number(registers.upperSignal), held.number(registers.upperReading)]
  for (const value of [s1, r1, s2, r2]) if (!value.ok) return value
  if (!s1.ok || !r1.ok || !s2.ok || !r2.ok) return fail({ kind: 'no-span-held' })
  return ok({
    signal: s2.value.sub(s1.value),
    signalUnit: signalUnitOf(held.profile, held.register(registers.upperSignal)),
    reading: r2.value.sub(r1.value),
    readingRegister: held.register(registers.upperReading),
    through: [
      { signal: s1.value, reading: r1.value },
      { signal: s2.value, reading: r2.value },
    ],
  })
}
