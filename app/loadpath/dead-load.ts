import { type ConvertFailure, convert, convertThroughGravity } from '../quantity/convert.ts'
import { type Exact, exact, sum } from '../quantity/exact.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import type { UnitId } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'

/** A part that always lies on the sensors: vessel, platform, agitator; pipes with the part of their weight that hangs on the vessel. */
export type DeadPart = { name: string; load: QuantityText /** Part carried by the point, in percent; 100 if absent. */; percent?: string }

export type DeadLoadFailure = { part: string; because: ConvertFailure }

/**
 * Dead load of a structure in the unit of the point, exact.
 * `gravity` (m/s²) is needed between mass and force only; without it such a part is a failure that names it.
 */
export function deadLoadOf(parts: readonly DeadPart[], unit: UnitId, gravity?: Exact): Result<Exact, DeadLoadFailure> {
  const loads: Exact[] = []
  for (const part of parts) {
    const value = exact(part.load.value)
    const converted = gravity ? convertThroughGravity(value, part.load.unit, unit, gravity) : convert(value, part.load.unit, unit)
    if (!converted.ok) return fail({ part: part.name, because: converted.failure })
    loads.push(converted.value.mul(exact(part.percent ?? '100')).div(exact('100')))
  }
  return ok(sum(loads))
}
