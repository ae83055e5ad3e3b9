import type { Point } from '../job/schema.ts'
import { kindWords, sameKind } from '../quantity/convert.ts'
import { units } from '../quantity/units.ts'
import { unitMeant, unitsFor } from './reading-settings.ts'

/** Whether an option of an indicator's unit names a unit of another kind than the point's. One that names no unit known here does not. */
function ofAnotherKind(means: string, point: Pick<Point, 'unit'>): boolean {
  const unit = unitMeant(means)
  return unit !== undefined && !sameKind(unit, point.unit)
}

/** What an indicator offers as its unit, set apart by whether the point can be measured in it. */
export const unitsByKind = (offered: readonly string[], point: Pick<Point, 'unit'>) => ({
  fitting: offered.filter((means) => !ofAnotherKind(means, point)),
  other: offered.filter((means) => ofAnotherKind(means, point)),
})

/** Why the unit of an indicator is in doubt for a point, and what would be right; undefined where it is not. */
export function unitInDoubt(means: string, offered: readonly string[], point: Pick<Point, 'unit'>): string | undefined {
  if (!ofAnotherKind(means, point)) return undefined
  const kind = kindWords(point.unit)
  const fitting = unitsFor(point, offered)
  return `${means} is no unit of ${kind}: readings in it say nothing of this point in ${units[point.unit].symbol}. ${
    fitting.length > 0 ? `Right would be ${fitting.join(', ')}.` : `This indicator offers no unit of ${kind}; one that does would be right.`
  }`
}
