import { type Exact, exact, fromInteger, minimum, one, zero } from '../../quantity/exact.ts'
import type { UnitId } from '../../quantity/units.ts'
import { fail, ok, type Result } from '../../result.ts'
import { digitAround, type Held, nearestHeld } from '../register-digits.ts'
import type { ScalingFailure } from '../scaling-failure.ts'
import { type FitContext, type Fitted, hold, inOwnUnits, type OwnUnits, type Slot, slotOf } from '../scaling-model.ts'
import { costOf, type TwoPairs } from '../scaling-values.ts'

type Place = 'lowerSignal' | 'lowerReading' | 'upperSignal' | 'upperReading'
type Slots = Record<Place, Slot>
type Fit = { c: FitContext; slots: Slots; own: OwnUnits }

/**
 * The pairs (signal at zero, 0) and (signal at a reading, that reading) in the indicator's digits.
 * The upper signal is counted from the lower one as rounded, so the span is off by half a digit at most and the rest is a shift that zeroing takes off.
 */
function pairsAt({ c, slots, own }: Fit, reading: Exact): Result<TwoPairs, ScalingFailure> {
  const lower = { signal: nearestHeld(slots.lowerSignal.digits, own.zeroSignal), reading: nearestHeld(slots.lowerReading.digits, zero) }
  const upperAt = nearestHeld(slots.upperReading.digits, reading)
  const upper = { signal: nearestHeld(slots.upperSignal.digits, lower.signal.value.add(own.slope.mul(upperAt.value))), reading: upperAt }
  const values: Record<string, string> = {}
  const placed: [Place, Held][] = [
    ['lowerSignal', lower.signal],
    ['lowerReading', lower.reading],
    ['upperSignal', upper.signal],
    ['upperReading', upper.reading],
  ]
  for (const [place, held] of placed) {
    const taken = hold(slots[place], held.value)
    if (!taken.ok) return taken
    values[slots[place].key] = held.text
  }
  const signalSpan = upper.signal.value.sub(lower.signal.value)
  if (signalSpan.lte(zero) || upper.reading.value.lte(zero))
    return fail({ kind: 'no-span-left', register: signalSpan.lte(zero) ? slots.upperSignal.key : slots.upperReading.key })
  const cost = (readingUnits: Exact) => costOf(c.line, own.perPointUnit, readingUnits)
  const shown = own.slope.mul(own.maximum).mul(upper.reading.value).div(signalSpan)
  const halfDigit = digitAround(slots.upperSignal.digits, upper.signal.value).div(fromInteger(2))
  return ok({
    lower: { signal: lower.signal.text, reading: lower.reading.text },
    upper: { signal: upper.signal.text, reading: upper.reading.text },
    signalUnit: own.signalUnit,
    readingUnit: c.reading.unit,
    values,
    rounding: {
      atMaximum: cost(shown.sub(own.maximum)),
      atMost: cost(own.maximum.mul(halfDigit).div(signalSpan)),
      zeroShift: cost(own.zeroSignal.sub(lower.signal.value).mul(upper.reading.value).div(signalSpan)),
    },
  })
}

/** Rounding that costs less than this share of a scale interval at maximum load is not worth another pair (own choice). */
const worthwhile = exact('0.01')
const candidates = 400
const offered = 3

/**
 * Other pairs on the same line that cost less than the one at maximum load, best first; none where rounding does not matter.
 * Readings are whole scale intervals from two fifths of maximum load up to maximum load, or up to the sensors' capacity where the profile allows that.
 */
function alternatives(fit: Fit, chosen: TwoPairs, above: boolean): TwoPairs[] {
  if (chosen.rounding.atMaximum.intervals.abs().lt(worthwhile)) return []
  const { maximum } = fit.own
  const { scaleInterval } = fit.c.reading
  const capacity = fit.c.line.capacityLoad.mul(fit.own.perPointUnit)
  const limit = above && capacity.gt(maximum) ? capacity : maximum
  const first = minimum(maximum, limit).mul(exact('0.4')).div(scaleInterval).ceil()
  const last = limit.div(scaleInterval).floor()
  const count = last.sub(first)
  const step = count.lte(fromInteger(candidates)) ? one : count.div(fromInteger(candidates)).ceil()
  const readings: Exact[] = limit.equals(capacity) ? [capacity] : []
  for (let n = last; n.gte(first); n = n.sub(step)) readings.push(n.mul(scaleInterval))
  const magnitude = (p: TwoPairs) => p.rounding.atMaximum.units.abs()
  const better = readings.flatMap((at) => {
    const pairs = pairsAt(fit, at)
    return pairs.ok && magnitude(pairs.value).lt(magnitude(chosen)) ? [pairs.value] : []
  })
  // equal costs: the wider pair first, as it stands in `readings`
  return better.sort((a, b) => magnitude(a).compare(magnitude(b))).slice(0, offered)
}

export type PairNames = Record<Place, string>

/** Fits two pairs into registers of these names; `perSignal` are the units of the signal registers in one mV/V. */
export function fitPairs(
  c: FitContext,
  names: PairNames,
  perSignal: Exact,
  signalUnit: UnitId,
  pairAboveMaximum: boolean,
): Result<Fitted, ScalingFailure> {
  const slots: Partial<Slots> = {}
  for (const [place, name] of Object.entries(names) as [Place, string][]) {
    const slot = slotOf(c, name)
    if (!slot.ok) return slot
    slots[place] = slot.value
  }
  const own = inOwnUnits(c, perSignal, signalUnit)
  if (!own.ok) return own
  const fit = { c, slots: slots as Slots, own: own.value }
  const chosen = pairsAt(fit, own.value.maximum)
  return chosen.ok ? ok({ chosen: chosen.value, alternatives: alternatives(fit, chosen.value, pairAboveMaximum) }) : chosen
}
