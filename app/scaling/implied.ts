import type { Point, SettingsImage } from '../job/schema.ts'
import type { Profile } from '../profile/schema.ts'
import { unitFrom } from '../profile/settings.ts'
import { convertDifference, convertThroughGravity, dimensionOf, quantityIn } from '../quantity/convert.ts'
import { type Exact, exact, one, toDecimal, toSignificant, zero } from '../quantity/exact.ts'
import type { UnitId } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import { lineFromCertificates } from './certificate-scaling.ts'
import { gravityHere } from './gravity-ratio.ts'
import type { ImpliedFailure } from './implied-failure.ts'
import { unitMeant } from './reading-settings.ts'
import { heldReader } from './scaling-model.ts'
import { scalingModels } from './scaling-models.ts'
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

/** Without a tolerance, a held sensitivity further than this from the certificate's is worth a look. Common practice, no source. */
const suspiciousPercent = 1

/** Whether the certificates contradict the held values by more than the tolerance at maximum load. */
export function isOff({ differencePercent }: Implied, { tolerance, maximumLoad }: Point): boolean {
  const allowed = tolerance ? (Number(tolerance.value) / Number(maximumLoad)) * 100 : suspiciousPercent
  return Math.abs(differencePercent.valueOf()) > allowed
}

export { explainImpliedFailure, type ImpliedFailure } from './implied-failure.ts'

/** Held slope in mV/V per unit of the point, exact from the texts that the registers decode to. */
function heldSlope(point: Point, profile: Profile, image: SettingsImage): Result<Exact, ImpliedFailure> {
  const { model } = profile.scaling
  const span =
    scalingModels[model].heldSpan?.(heldReader(point.channel, profile, image)) ??
    fail<ImpliedFailure>({ kind: 'model-not-computed', model })
  if (!span.ok) return span
  const { signal, signalUnit, reading, readingRegister } = span.value
  if (signal.equals(zero) || reading.equals(zero)) return fail({ kind: 'no-span-held' })
  const ratio = inMillivoltsPerVolt(signal, signalUnit, point)
  if (!ratio.ok) return ratio
  const heldUnit = readingRegister && unitFrom(profile, readingRegister, (k) => image.values[k]?.value)
  const readingUnit = heldUnit === undefined ? point.unit : unitMeant(heldUnit)
  if (!readingUnit) return fail({ kind: 'unit-not-known', held: heldUnit ?? '' })
  const gravity = gravityHere(point)
  const load =
    gravity.ok && gravity.value
      ? convertThroughGravity(reading, readingUnit, point.unit, gravity.value)
      : convertDifference(reading, readingUnit, point.unit)
  return load.ok ? ok(ratio.value.div(load.value)) : fail({ kind: 'unit-of-another-kind', unit: readingUnit, pointUnit: point.unit })
}

/** Signals in mV need the excitation measured at the point. */
function inMillivoltsPerVolt(signal: Exact, unit: UnitId, point: Point): Result<Exact, ImpliedFailure> {
  if (dimensionOf(unit) !== 'voltage') {
    const ratio = convertDifference(signal, unit, 'mV/V')
    return ratio.ok ? ratio : fail({ kind: 'unit-not-known', held: unit })
  }
  const { excitation } = point.measured
  const [millivolts, volts] = [convertDifference(signal, unit, 'mV'), excitation && quantityIn(excitation, 'V')]
  return millivolts.ok && volts?.ok && volts.value.gt(zero) ? ok(millivolts.value.div(volts.value)) : fail({ kind: 'signal-in-millivolts' })
}

/**
 * Sensitivity that the scaling values found in an indicator imply, against the certificates, and the usual slips that would explain the difference.
 * Units: mV/V at the sensors' capacity. Zero does not enter. Limits: the load path is taken as entered.
 */
export function impliedByHeld(point: Point, profile: Profile, held: SettingsImage): Result<Implied, ImpliedFailure> {
  const scaling = lineFromCertificates(point)
  if (!scaling.ok) return fail({ kind: 'certificates', because: scaling.failure })
  const slope = heldSlope(point, profile, held)
  if (!slope.ok) return slope
  const certified = scaling.value.line.ratedOutput
  // what the leads take off is not missing at the sensor
  const sensitivity = slope.value.mul(scaling.value.line.capacityLoad).div(scaling.value.line.leadsLeave)
  const ratio = sensitivity.div(certified)
  const { certificates } = point.sensors
  const own = [...new Set([point.unit, ...certificates.flatMap((c) => (c.capacity ? [c.capacity.unit] : []))])]
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
