import type { Point } from '../job/schema.ts'
import { type Profile, type Register, registerKey } from '../profile/schema.ts'
import { convert, sameKind } from '../quantity/convert.ts'
import { type Exact, exact, exactDecimal, toSignificant } from '../quantity/exact.ts'
import { unitsNamed } from '../quantity/unit-names.ts'
import { type UnitId, unitIds, units } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import { accepted, digitsOf, nearestHeld } from './register-digits.ts'
import type { ScalingFailure } from './scaling-failure.ts'

/** Register of a meaning for a channel: the channel's own, or the whole indicator's. */
export const channelRegister = (profile: Profile, name: string, channel: number): Register | undefined =>
  profile.registers.find((r) => r.name === name && r.channel === channel) ??
  profile.registers.find((r) => r.name === name && r.channel === undefined)

/** Unit, decimals and scale interval as the indicator is to show the point. `scaleInterval` is in `unit`. */
export type ReadingSettings = { unit: UnitId; decimals: number; scaleInterval: Exact; values: Record<string, string> }

/** Unit that an option or a register names; undefined where it names none. */
export function unitMeant(text: string): UnitId | undefined {
  const exactly = unitIds.find((id) => id === text || units[id].symbol === text)
  const named = unitsNamed(text)
  return exactly ?? (named.length === 1 ? named[0] : undefined)
}

/** Those of the offered units that a point can be measured in. */
export const unitsFor = (point: Pick<Point, 'unit'>, offered: readonly string[]): string[] =>
  offered.filter((means) => {
    const unit = unitMeant(means)
    return unit !== undefined && sameKind(unit, point.unit)
  })

/** What reading.unit, reading.decimals and reading.interval are to be for a point; only those that the profile lets one write. */
export function readingSettings(point: Point, profile: Profile): Result<ReadingSettings, ScalingFailure> {
  const values: Record<string, string> = {}
  const unit = readingUnit(point, profile, values)
  if (!unit.ok) return unit
  const interval = convert(exact(point.scaleInterval), point.unit, unit.value)
  if (!interval.ok) return fail({ kind: 'unit-of-another-kind', what: 'reading of the indicator', unit: unit.value, pointUnit: point.unit })
  const text = exactDecimal(interval.value)
  if (text === undefined)
    return fail({
      kind: 'interval-not-held',
      interval: toSignificant(interval.value, 6),
      why: `it has no finite number of decimals in ${units[unit.value].symbol}`,
    })
  const decimals = text.split('.')[1]?.length ?? 0
  const shown = setDecimals(decimals, text, point, profile, values)
  if (!shown.ok) return shown
  const held = setInterval(text, decimals, point, profile, values)
  if (!held.ok) return held
  return ok({ unit: unit.value, decimals, scaleInterval: interval.value, values })
}

/** Registers of the scaling models that hold a reading. */
const readingNames = ['scale.upper.reading', 'scale.table.1.reading', 'scale.intercept', 'scale.capacity']

function readingUnit(point: Point, profile: Profile, values: Record<string, string>): Result<UnitId, ScalingFailure> {
  const chooser = channelRegister(profile, 'reading.unit', point.channel)
  if (chooser?.options) {
    const option = chooser.options.find((o) => unitMeant(o.means) === point.unit)
    const offered = chooser.options.map((o) => o.means)
    if (!option) return fail({ kind: 'unit-not-offered', unit: point.unit, offered, fitting: unitsFor(point, offered) })
    if (chooser.access === 'read-write') values[registerKey(chooser)] = option.means
    return ok(point.unit)
  }
  const fixed = readingNames.map((name) => channelRegister(profile, name, point.channel)?.unit).find((unit) => typeof unit === 'string')
  return ok(fixed ?? point.unit)
}

function setDecimals(
  decimals: number,
  interval: string,
  point: Point,
  profile: Profile,
  values: Record<string, string>,
): Result<null, ScalingFailure> {
  const r = channelRegister(profile, 'reading.decimals', point.channel)
  if (r?.access !== 'read-write') return ok(null)
  const means = r.options?.find((o) => Number(o.means) === decimals)?.means ?? String(decimals)
  const taken = accepted(r, registerKey(r), { text: means, value: exact(String(decimals)) }, { kind: 'decimal', decimals: 0 })
  if (!taken.ok)
    return fail({ kind: 'interval-not-held', interval, why: `it needs ${decimals} decimals, which the indicator does not show` })
  values[registerKey(r)] = means
  return ok(null)
}

/** Some indicators hold the interval as a value, some as one of a list, some as the step of the last digit. */
function setInterval(
  text: string,
  decimals: number,
  point: Point,
  profile: Profile,
  values: Record<string, string>,
): Result<null, ScalingFailure> {
  const r = channelRegister(profile, 'reading.interval', point.channel)
  if (r?.access !== 'read-write') return ok(null)
  const key = registerKey(r)
  const wanted = exact(text)
  const refused = (why: string) => fail<ScalingFailure>({ kind: 'interval-not-held', interval: text, why })
  if (r.options) {
    const numbers = r.options.filter((o) => /^\d+(\.\d+)?$/.test(o.means))
    const lastDigit = wanted.mul(exact(`1${'0'.repeat(decimals)}`))
    const option =
      numbers.find((o) => exact(o.means).equals(wanted)) ??
      numbers.find((o) => numbers.every((n) => !n.means.includes('.')) && exact(o.means).equals(lastDigit))
    if (!option) return refused(`it offers ${r.options.map((o) => o.means).join(', ')}`)
    values[key] = option.means
    return ok(null)
  }
  const digits = digitsOf(r, typeof r.decimals === 'number' ? r.decimals : decimals)
  if (!digits) return fail({ kind: 'decimals-unknown', register: key })
  const held = nearestHeld(digits, wanted)
  if (digits.kind === 'decimal' && !held.value.equals(wanted)) return refused(`its register holds ${digits.decimals} decimals`)
  const taken = accepted(r, key, held, digits)
  if (!taken.ok) return refused(taken.failure.kind === 'not-accepted' ? taken.failure.why : 'it is not accepted')
  values[key] = held.text
  return ok(null)
}
