import type { Point } from '../job/schema.ts'
import { type Profile, type Register, registerKey } from '../profile/schema.ts'
import { convertDifference, dimensionOf } from '../quantity/convert.ts'
import { type Exact, exact, fromInteger, minimum, one, zero } from '../quantity/exact.ts'
import type { UnitId } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import type { ExactLine } from './certificate-scaling.ts'
import { channelRegister, type ReadingSettings } from './reading-settings.ts'
import { accepted, type Digits, digitAround, digitsOf, type Held, nearestHeld } from './register-digits.ts'
import type { ScalingFailure } from './scaling-failure.ts'

/** One amount told in three ways: in the point's unit, in scale intervals d, in percent of maximum load. Exact. */
export type Cost = { units: Exact; intervals: Exact; percent: Exact }

/** What the digits of an indicator cost, at maximum load. */
export type RoundingCost = {
  /** Error of the span that these very values make, with its sign; zero taken off. */
  atMaximum: Cost
  /** What rounding can cost at most: half a digit over the signal span of the pairs. */
  atMost: Cost
  /** Reading of the unloaded point because the lower signal is rounded; zeroing takes it off. */
  zeroShift: Cost
}

/** Two pairs as typed into the indicator; signals in `signalUnit`, readings in `readingUnit`. */
export type TwoPairs = {
  lower: { signal: string; reading: string }
  upper: { signal: string; reading: string }
  signalUnit: UnitId
  readingUnit: UnitId
  values: Record<string, string>
  rounding: RoundingCost
}

type Registers = Record<'lowerSignal' | 'lowerReading' | 'upperSignal' | 'upperReading', { r: Register; key: string; digits: Digits }>

/** Everything that fitting pairs needs, in the indicator's own units. */
type Fit = {
  line: ExactLine
  registers: Registers
  signalUnit: UnitId
  readingUnit: UnitId
  zeroSignal: Exact
  slope: Exact
  perPointUnit: Exact
}

const names = {
  lowerSignal: 'scale.lower.signal',
  lowerReading: 'scale.lower.reading',
  upperSignal: 'scale.upper.signal',
  upperReading: 'scale.upper.reading',
} as const

function findRegisters(point: Point, profile: Profile, reading: ReadingSettings): Result<Registers, ScalingFailure> {
  const found: Partial<Registers> = {}
  for (const [place, name] of Object.entries(names) as [keyof Registers, string][]) {
    const r = channelRegister(profile, name, point.channel)
    if (!r) return fail({ kind: 'register-missing', register: name })
    const decimals = typeof r.decimals === 'object' ? heldDecimals(r.decimals.register, point, profile, reading) : r.decimals
    const digits = digitsOf(r, typeof r.decimals === 'object' ? decimals : (decimals ?? 0))
    if (!digits) return fail({ kind: 'decimals-unknown', register: registerKey(r) })
    found[place] = { r, key: registerKey(r), digits }
  }
  return ok(found as Registers)
}

function heldDecimals(name: string, point: Point, profile: Profile, reading: ReadingSettings): number | undefined {
  const holder = channelRegister(profile, name, point.channel)
  const key = holder && registerKey(holder)
  const text = key === undefined ? undefined : (reading.values[key] ?? point.intended[key])
  return text !== undefined && /^\d$/.test(text) ? Number(text) : undefined
}

function prepare(
  line: ExactLine,
  point: Point,
  profile: Profile,
  reading: ReadingSettings,
  excitation: Exact | undefined,
): Result<Fit, ScalingFailure> {
  const registers = findRegisters(point, profile, reading)
  if (!registers.ok) return registers
  const { unit } = registers.value.upperSignal.r
  const signalUnit = typeof unit === 'string' ? unit : (profile.input?.signalUnit ?? 'mV/V')
  const isVoltage = dimensionOf(signalUnit) === 'voltage'
  if (isVoltage && !excitation) return fail({ kind: 'excitation-not-measured' })
  const perSignal = convertDifference(isVoltage && excitation ? excitation : one, isVoltage ? 'mV' : 'mV/V', signalUnit)
  if (!perSignal.ok) return fail({ kind: 'wrong-unit', what: 'signal of the indicator', unit: signalUnit, right: 'mV/V or mV' })
  const perPointUnit = convertDifference(one, line.unit, reading.unit)
  if (!perPointUnit.ok)
    return fail({ kind: 'unit-of-another-kind', what: 'reading of the indicator', unit: reading.unit, pointUnit: line.unit })
  return ok({
    line,
    registers: registers.value,
    signalUnit,
    readingUnit: reading.unit,
    perPointUnit: perPointUnit.value,
    zeroSignal: line.zeroSignal.mul(perSignal.value),
    slope: line.slope.mul(perSignal.value).div(perPointUnit.value),
  })
}

function costOf(fit: Fit, readingUnits: Exact): Cost {
  const units = readingUnits.div(fit.perPointUnit)
  return { units, intervals: units.div(fit.line.scaleInterval), percent: units.div(fit.line.maximumLoad).mul(exact('100')) }
}

/**
 * The pairs (signal at zero, 0) and (signal at a reading, that reading) in the indicator's digits.
 * The upper signal is counted from the lower one as rounded, so the span is off by half a digit at most and the rest is a shift that zeroing takes off.
 */
function pairsAt(fit: Fit, reading: Exact): Result<TwoPairs, ScalingFailure> {
  const { lowerSignal, lowerReading, upperSignal, upperReading } = fit.registers
  const lower = { signal: nearestHeld(lowerSignal.digits, fit.zeroSignal), reading: nearestHeld(lowerReading.digits, zero) }
  const upperAt = nearestHeld(upperReading.digits, reading)
  const upper = { signal: nearestHeld(upperSignal.digits, lower.signal.value.add(fit.slope.mul(upperAt.value))), reading: upperAt }
  const values: Record<string, string> = {}
  const placed: [keyof Registers, Held][] = [
    ['lowerSignal', lower.signal],
    ['lowerReading', lower.reading],
    ['upperSignal', upper.signal],
    ['upperReading', upper.reading],
  ]
  for (const [place, held] of placed) {
    const { r, key, digits } = fit.registers[place]
    const taken = accepted(r, key, held, digits)
    if (!taken.ok) return taken
    values[key] = held.text
  }
  const signalSpan = upper.signal.value.sub(lower.signal.value)
  if (signalSpan.lte(zero) || upper.reading.value.lte(zero))
    return fail({ kind: 'no-span-left', register: signalSpan.lte(zero) ? upperSignal.key : upperReading.key })
  const maximum = fit.line.maximumLoad.mul(fit.perPointUnit)
  const shown = fit.slope.mul(maximum).mul(upper.reading.value).div(signalSpan)
  const halfDigit = digitAround(upperSignal.digits, upper.signal.value).div(fromInteger(2))
  return ok({
    lower: { signal: lower.signal.text, reading: lower.reading.text },
    upper: { signal: upper.signal.text, reading: upper.reading.text },
    signalUnit: fit.signalUnit,
    readingUnit: fit.readingUnit,
    values,
    rounding: {
      atMaximum: costOf(fit, shown.sub(maximum)),
      atMost: costOf(fit, maximum.mul(halfDigit).div(signalSpan)),
      zeroShift: costOf(fit, fit.zeroSignal.sub(lower.signal.value).mul(upper.reading.value).div(signalSpan)),
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
function alternatives(fit: Fit, chosen: TwoPairs, reading: ReadingSettings, above: boolean): TwoPairs[] {
  if (chosen.rounding.atMaximum.intervals.abs().lt(worthwhile)) return []
  const maximum = fit.line.maximumLoad.mul(fit.perPointUnit)
  const capacity = fit.line.capacityLoad.mul(fit.perPointUnit)
  const limit = above && capacity.gt(maximum) ? capacity : maximum
  const first = minimum(maximum, limit).mul(exact('0.4')).div(reading.scaleInterval).ceil()
  const last = limit.div(reading.scaleInterval).floor()
  const count = last.sub(first)
  const step = count.lte(fromInteger(candidates)) ? one : count.div(fromInteger(candidates)).ceil()
  const readings: Exact[] = limit.equals(capacity) ? [capacity] : []
  for (let n = last; n.gte(first); n = n.sub(step)) readings.push(n.mul(reading.scaleInterval))
  const magnitude = (p: TwoPairs) => p.rounding.atMaximum.units.abs()
  const better = readings.flatMap((at) => {
    const pairs = pairsAt(fit, at)
    return pairs.ok && magnitude(pairs.value).lt(magnitude(chosen)) ? [pairs.value] : []
  })
  // equal costs: the wider pair first, as it stands in `readings`
  return better.sort((a, b) => magnitude(a).compare(magnitude(b))).slice(0, offered)
}

/** Fits the exact line to the indicator's digits and limits: the pair at maximum load, and others that round better. `excitation` (V, measured) only for inputs in mV. */
export function fitTwoPairs(
  line: ExactLine,
  point: Point,
  profile: Profile,
  reading: ReadingSettings,
  excitation: Exact | undefined,
): Result<{ chosen: TwoPairs; alternatives: TwoPairs[] }, ScalingFailure> {
  if (profile.scaling.model !== 'two-pairs') return fail({ kind: 'model-not-computed', model: profile.scaling.model })
  const fit = prepare(line, point, profile, reading, excitation)
  if (!fit.ok) return fit
  const chosen = pairsAt(fit.value, line.maximumLoad.mul(fit.value.perPointUnit))
  if (!chosen.ok) return chosen
  return ok({ chosen: chosen.value, alternatives: alternatives(fit.value, chosen.value, reading, profile.scaling.pairAboveMaximum) })
}
