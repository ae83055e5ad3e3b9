import type { Point, SettingsImage } from '../job/schema.ts'
import type { Profile } from '../profile/schema.ts'
import { unitFrom } from '../profile/settings.ts'
import { convert, convertThroughGravity, dimensionOf } from '../quantity/convert.ts'
import type { Exact } from '../quantity/exact.ts'
import type { UnitId } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import { gravityHere } from './gravity-ratio.ts'
import { alongPairs } from './held-pairs.ts'
import type { ImpliedFailure } from './implied-failure.ts'
import { unitMeant } from './reading-settings.ts'
import { heldReader } from './scaling-model.ts'
import { scalingModels } from './scaling-models.ts'

/** A reading in the unit of the point; between mass and force through the gravity here. */
export function readingInPointUnit(reading: Exact, unit: UnitId, point: Point): Result<Exact, ImpliedFailure> {
  const gravity = gravityHere(point)
  const value =
    gravity.ok && gravity.value ? convertThroughGravity(reading, unit, point.unit, gravity.value) : convert(reading, unit, point.unit)
  return value.ok ? ok(value.value) : fail({ kind: 'unit-of-another-kind', unit, pointUnit: point.unit })
}

/**
 * What the scaling values held by an indicator make of a signal: mV/V at its input in, the point's unit out.
 * `excitation` in V is needed where they are held in mV. Limits: the zero that was set by a command on the indicator is not in it.
 */
export function readingByHeld(
  point: Point,
  profile: Profile,
  held: SettingsImage,
  signal: Exact,
  excitation: Exact | undefined,
): Result<Exact, ImpliedFailure> {
  const { model } = profile.scaling
  const span =
    scalingModels[model].heldSpan?.(heldReader(point.channel, profile, held)) ?? fail<ImpliedFailure>({ kind: 'model-not-computed', model })
  if (!span.ok) return span
  const { through, signalUnit, readingRegister } = span.value
  if (!through || through.length < 2) return fail({ kind: 'model-not-computed', model })
  const inVolts = dimensionOf(signalUnit) === 'voltage'
  if (inVolts && !excitation) return fail({ kind: 'signal-in-millivolts' })
  const own = convert(inVolts && excitation ? signal.mul(excitation) : signal, inVolts ? 'mV' : 'mV/V', signalUnit)
  if (!own.ok) return fail({ kind: 'unit-not-known', held: signalUnit })
  const reading = alongPairs(through, 'signal', own.value)
  if (!reading) return fail({ kind: 'no-span-held' })
  const heldUnit = readingRegister && unitFrom(profile, readingRegister, (key) => held.values[key]?.value)
  const unit = heldUnit === undefined ? point.unit : unitMeant(heldUnit)
  return unit ? readingInPointUnit(reading, unit, point) : fail({ kind: 'unit-not-known', held: heldUnit ?? '' })
}
