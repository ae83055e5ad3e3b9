import type { Point } from '../job/schema.ts'
import { deadLoadOf } from '../loadpath/dead-load.ts'
import { headOf } from '../loadpath/pressure.ts'
import { convert, quantityIn } from '../quantity/convert.ts'
import { type Exact, zero } from '../quantity/exact.ts'
import { fail, ok, type Result } from '../result.ts'
import { gravityHere, inPointUnit, standardGravity } from './gravity-ratio.ts'
import type { ScalingFailure } from './scaling-failure.ts'

/** What is on the sensors before any load, in the point's unit. */
export type AlwaysOn = {
  load: Exact
  from: 'structure' | 'typed' | 'head' | 'not-stated'
  /** A head was computed with standard gravity, since gravity here is not stated. */
  gravityAssumed: boolean
}

/**
 * Dead load of a weighing point, by its parts or as typed; head of fluid of a pressure point.
 * A head moves the zero like a dead load: it adds to what the sensor feels and is not to be read. Source: statics; hydrostatics.
 */
export function alwaysOn(point: Point): Result<AlwaysOn, ScalingFailure> {
  const { structure, deadLoad, head } = point.loadPath
  const here = gravityHere(point)
  if (!here.ok) return here
  if (structure) {
    const parts = structure.map((p) => ({ name: p.name, load: p.load, ...(p.percent === undefined ? {} : { percent: p.percent }) }))
    const sum = deadLoadOf(parts, point.unit, here.value)
    if (sum.ok) return ok({ load: sum.value, from: 'structure', gravityAssumed: false })
    const { because, part } = sum.failure
    const what = part === '' ? 'a part of the dead load' : `dead load of ${part}`
    return fail(
      because.kind === 'needs-gravity'
        ? { kind: 'gravity-needed', whose: 'here', unit: because.from, pointUnit: point.unit }
        : { kind: 'unit-of-another-kind', what, unit: because.from, pointUnit: point.unit },
    )
  }
  if (deadLoad) {
    const load = inPointUnit(deadLoad, 'dead load', point)
    return load.ok ? ok({ load: load.value, from: 'typed', gravityAssumed: false }) : load
  }
  if (!head) return ok({ load: zero, from: 'not-stated', gravityAssumed: false })
  const [height, density] = [quantityIn(head.height, 'm'), quantityIn(head.density, 'kg/m3')]
  if (!height.ok) return fail({ kind: 'wrong-unit', what: 'height of the head', unit: head.height.unit, right: 'm' })
  if (!density.ok) return fail({ kind: 'wrong-unit', what: 'density of the head', unit: head.density.unit, right: 'kg/m³' })
  const pascals = headOf([{ height: height.value, density: density.value }], here.value ?? standardGravity)
  const load = convert(pascals, 'Pa', point.unit)
  return load.ok
    ? ok({ load: load.value, from: 'head', gravityAssumed: here.value === undefined })
    : fail({ kind: 'unit-of-another-kind', what: 'head of fluid', unit: 'Pa', pointUnit: point.unit })
}
