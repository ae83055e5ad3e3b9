import type { Certificate, Point } from '../job/schema.ts'
import { convert, convertThroughGravity, dimensionOf } from '../quantity/convert.ts'
import { type Exact, exact } from '../quantity/exact.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import type { UnitId } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import type { ScalingFailure } from './scaling-failure.ts'

export const standardGravity = exact('9.80665')
const [least, most] = [exact('9.76'), exact('9.84')]

/** Gravity in m/s², or undefined where it is not stated. Values that occur nowhere on Earth are refused. */
export function gravityStated(
  gravity: 'standard' | 'not-stated' | QuantityText | undefined,
  whose: 'here' | 'certificate',
): Result<Exact | undefined, ScalingFailure> {
  if (gravity === undefined || gravity === 'not-stated') return ok(undefined)
  if (gravity === 'standard') return ok(standardGravity)
  const value = convert(exact(gravity.value), gravity.unit, 'm/s2')
  if (!value.ok) return fail({ kind: 'wrong-unit', what: 'gravity', unit: gravity.unit, right: 'm/s²' })
  return value.value.lt(least) || value.value.gt(most) ? fail({ kind: 'gravity-absurd', whose, value: gravity.value }) : ok(value.value)
}

export const gravityHere = (point: Point) => gravityStated(point.loadPath.gravityHere, 'here')

/** A quantity of the load path (dead load) in the point's unit; between mass and force through the gravity here. */
export function inPointUnit(quantity: QuantityText, what: string, point: Point): Result<Exact, ScalingFailure> {
  const here = gravityHere(point)
  if (!here.ok) return here
  return through(exact(quantity.value), quantity.unit, what, point.unit, here.value, 'here')
}

function through(
  value: Exact,
  unit: UnitId,
  what: string,
  pointUnit: UnitId,
  gravity: Exact | undefined,
  whose: 'here' | 'certificate',
  certificate?: string,
): Result<Exact, ScalingFailure> {
  const converted = gravity ? convertThroughGravity(value, unit, pointUnit, gravity) : convert(value, unit, pointUnit)
  if (converted.ok) return ok(converted.value)
  return converted.failure.kind === 'needs-gravity'
    ? fail({ kind: 'gravity-needed', whose, unit, pointUnit, ...(certificate === undefined ? {} : { certificate }) })
    : fail({ kind: 'unit-of-another-kind', what, unit, pointUnit })
}

/**
 * Load, in the point's unit and here, that is to a sensor what its certificate calls `stated`: its capacity, or a load of its table.
 * One in mass units stands for the force of that mass at the certificate's gravity; a mass at the point weighs what gravity here makes of it.
 * Where one of the two gravities is not stated and both units are of mass, they are taken as equal and `assumed` says so.
 */
export function loadHere(
  stated: QuantityText,
  certificate: Certificate,
  label: string,
  point: Point,
): Result<{ load: Exact; assumed: boolean }, ScalingFailure> {
  const [here, there] = [gravityHere(point), gravityStated(certificate.gravity, 'certificate')]
  if (!here.ok) return here
  if (!there.ok) return there
  const { unit } = stated
  const value = exact(stated.value)
  const [from, to] = [dimensionOf(unit), dimensionOf(point.unit)]
  if (from === 'mass' && to === 'mass') {
    const load = through(value, unit, 'capacity', point.unit, undefined, 'here', label)
    if (!load.ok) return load
    if (here.value && there.value) return ok({ load: load.value.mul(there.value).div(here.value), assumed: false })
    return ok({ load: load.value, assumed: here.value !== undefined || there.value !== undefined })
  }
  const load =
    from === 'mass'
      ? through(value, unit, 'capacity', point.unit, there.value, 'certificate', label)
      : through(value, unit, 'capacity', point.unit, here.value, 'here', label)
  return load.ok ? ok({ load: load.value, assumed: false }) : load
}
