import type { Point, SettingsImage } from '../job/schema.ts'
import { type Profile, registerKey } from '../profile/schema.ts'
import { unitFrom } from '../profile/settings.ts'
import { convertDifference, convertThroughGravity, dimensionOf } from '../quantity/convert.ts'
import { type Exact, exact, one, toDecimal, toSignificant, zero } from '../quantity/exact.ts'
import { type UnitId, unitIds, units } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import { lineFromCertificates } from './certificate-scaling.ts'
import { gravityHere } from './gravity-ratio.ts'
import { channelRegister, unitMeant } from './reading-settings.ts'
import { explainScalingFailure, type ScalingFailure } from './scaling-failure.ts'
import { type Suspicion, suspect, usualSlips } from './slips.ts'

/** What the scaling values held by an indicator say of the sensors behind it. */
export type Implied = {
  /** Sensitivity at the sensors' capacity that the held values amount to, mV/V. */
  sensitivity: Exact
  /** That of the certificates, mV/V. */
  certified: Exact
  /** Held against certified, in percent of certified. */
  differencePercent: Exact
  /** Usual slips that would explain the difference: suspicions, not findings. Nearest first. */
  suspicions: Suspicion[]
  /** The whole in one sentence for people, with a point as decimal sign. */
  summary: string
}

export type ImpliedFailure =
  | { kind: 'model-not-computed'; model: string }
  | { kind: 'not-read'; register: string }
  | { kind: 'no-span-held' }
  | { kind: 'signal-in-millivolts' }
  | { kind: 'unit-not-known'; held: string }
  | { kind: 'unit-of-another-kind'; unit: UnitId; pointUnit: UnitId }
  | { kind: 'certificates'; because: ScalingFailure }

export function explainImpliedFailure(f: ImpliedFailure): string {
  switch (f.kind) {
    case 'model-not-computed':
      return `From the scaling model "${f.model}" this version derives no sensitivity.`
    case 'not-read':
      return `${f.register} has not been read or means nothing. Read the settings again.`
    case 'no-span-held':
      return 'Both pairs held have the same signal or the same reading: the indicator is not scaled.'
    case 'signal-in-millivolts':
      return 'The signals held are in mV: the sensitivity they imply hangs on the excitation. Measure it.'
    case 'unit-not-known':
      return `The unit held ("${f.held}") is not known here.`
    case 'unit-of-another-kind':
      return `The indicator shows ${units[f.unit].symbol}, the measuring point is in ${units[f.pointUnit].symbol}. State the gravity here at the load path, or correct the unit.`
    case 'certificates':
      return explainScalingFailure(f.because)
  }
}

/** Held slope in mV/V per unit of the point, exact from the texts that the registers decode to. */
function heldSlope(point: Point, profile: Profile, held: SettingsImage): Result<Exact, ImpliedFailure> {
  const values: Exact[] = []
  for (const name of ['scale.lower.signal', 'scale.lower.reading', 'scale.upper.signal', 'scale.upper.reading']) {
    const r = channelRegister(profile, name, point.channel)
    const text = r && held.values[registerKey(r)]?.value
    if (text === null || text === undefined) return fail({ kind: 'not-read', register: name })
    values.push(exact(text))
  }
  const [s1 = zero, r1 = zero, s2 = zero, r2 = zero] = values
  if (s1.equals(s2) || r1.equals(r2)) return fail({ kind: 'no-span-held' })
  const [signalRegister, readingRegister] = [
    channelRegister(profile, 'scale.upper.signal', point.channel),
    channelRegister(profile, 'scale.upper.reading', point.channel),
  ]
  const signalUnit = unitIds.find((id) => id === signalRegister?.unit) ?? profile.input?.signalUnit ?? 'mV/V'
  if (dimensionOf(signalUnit) === 'voltage') return fail({ kind: 'signal-in-millivolts' })
  const signal = convertDifference(s2.sub(s1), signalUnit, 'mV/V')
  if (!signal.ok) return fail({ kind: 'unit-not-known', held: signalUnit })
  const heldUnit = readingRegister && unitFrom(profile, readingRegister, (k) => held.values[k]?.value)
  const readingUnit = heldUnit === undefined ? point.unit : unitMeant(heldUnit)
  if (!readingUnit) return fail({ kind: 'unit-not-known', held: heldUnit ?? '' })
  const gravity = gravityHere(point)
  const reading =
    gravity.ok && gravity.value
      ? convertThroughGravity(r2.sub(r1), readingUnit, point.unit, gravity.value)
      : convertDifference(r2.sub(r1), readingUnit, point.unit)
  return reading.ok ? ok(signal.value.div(reading.value)) : fail({ kind: 'unit-of-another-kind', unit: readingUnit, pointUnit: point.unit })
}

/**
 * Sensitivity that the scaling values found in an indicator imply, against the certificates, and the usual slips that would explain the difference.
 * Units: mV/V at the sensors' capacity. Zero does not enter. Limits: two pairs; the load path is taken as entered.
 */
export function impliedByHeld(point: Point, profile: Profile, held: SettingsImage): Result<Implied, ImpliedFailure> {
  if (profile.scaling.model !== 'two-pairs') return fail({ kind: 'model-not-computed', model: profile.scaling.model })
  const scaling = lineFromCertificates(point)
  if (!scaling.ok) return fail({ kind: 'certificates', because: scaling.failure })
  const slope = heldSlope(point, profile, held)
  if (!slope.ok) return slope
  const certified = scaling.value.line.ratedOutput
  const sensitivity = slope.value.mul(scaling.value.line.capacityLoad)
  const ratio = sensitivity.div(certified)
  const { certificates } = point.sensors
  const own = [...new Set([point.unit, ...certificates.map((c) => c.capacity.unit)])]
  const suspicions = suspect(ratio, usualSlips(own, certificates.length))
  const differencePercent = ratio.sub(one).mul(exact('100'))
  return ok({
    sensitivity,
    certified,
    differencePercent,
    suspicions,
    summary: summarise(sensitivity, certified, differencePercent, suspicions),
  })
}

function summarise(sensitivity: Exact, certified: Exact, percent: Exact, suspicions: Suspicion[]): string {
  const against = percent.equals(zero)
    ? 'as certified'
    : `${toSignificant(percent.abs(), 3)} % ${percent.gt(zero) ? 'above' : 'below'} the certified ${toDecimal(certified, 4)} mV/V`
  const names = suspicions.map((s) => `${s.what} (within ${toSignificant(s.missesPercent.abs(), 2)} %)`)
  return `${toDecimal(sensitivity, 4)} mV/V at capacity, ${against}${names.length > 0 ? `; suspected: ${names.join('; ')}` : ''}`
}
