import { exact, fromInteger, toDecimal, zero } from '../../quantity/exact.ts'
import { fail, ok } from '../../result.ts'
import { perMillivoltPerVolt, type ScalingModel } from '../scaling-model.ts'
import type { TwoPairs } from '../scaling-values.ts'
import { quantityStated } from '../stated-quantity.ts'
import { fitPairs } from './pairs.ts'
import { heldSpanOf } from './two-pairs.ts'

const names = {
  lowerSignal: 'scale.lower.counts',
  lowerReading: 'scale.lower.reading',
  upperSignal: 'scale.upper.counts',
  upperReading: 'scale.upper.reading',
} as const

/** Size of a range in the unit of the input, with that unit; a range in mV stays one. */
function rangeSize(means: string | undefined) {
  if (means === undefined) return undefined
  const ratio = quantityStated(means, 'mV/V')
  const millivolts = quantityStated(means, 'mV')
  return ratio?.gt(zero)
    ? { size: ratio, unit: 'mV/V' as const }
    : millivolts?.gt(zero)
      ? { size: millivolts, unit: 'mV' as const }
      : undefined
}

/** Two pairs of converter counts and reading; counts are the signal as a part of the input range, times those at full range. */
export const counts: ScalingModel = {
  fit(c) {
    const model = c.profile.scaling
    if (model.model !== 'counts') return fail({ kind: 'model-not-computed', model: model.model })
    const range = rangeSize(c.inputRange)
    if (!range) return fail({ kind: 'input-range-unknown' })
    const perSignal = perMillivoltPerVolt(c, range.unit)
    if (!perSignal.ok) return perSignal
    const perCount = fromInteger(model.countsAtFullRange).div(range.size)
    const fitted = fitPairs(c, names, perSignal.value.mul(perCount), range.unit, model.pairAboveMaximum)
    if (!fitted.ok) return fitted
    // people are shown the signals that the counts stand for
    const signal = (text: string) => toDecimal(exact(text).div(perCount), 6)
    const inSignals = (p: TwoPairs): TwoPairs => ({
      ...p,
      lower: { ...p.lower, signal: signal(p.lower.signal) },
      upper: { ...p.upper, signal: signal(p.upper.signal) },
    })
    return ok({ chosen: inSignals(fitted.value.chosen), alternatives: fitted.value.alternatives.map(inSignals) })
  },
  heldSpan(held) {
    const model = held.profile.scaling
    if (model.model !== 'counts') return fail({ kind: 'model-not-computed', model: model.model })
    const means = held.text('input.range')
    const range = rangeSize(means)
    if (!range) return fail({ kind: 'not-read', register: 'input.range' })
    const span = heldSpanOf(held, names)
    if (!span.ok) return span
    const perCount = range.size.div(fromInteger(model.countsAtFullRange))
    const { signal, through } = span.value
    return ok({
      ...span.value,
      signal: signal.mul(perCount),
      signalUnit: range.unit,
      ...(through ? { through: through.map((p) => ({ ...p, signal: p.signal.mul(perCount) })) } : {}),
    })
  },
}
