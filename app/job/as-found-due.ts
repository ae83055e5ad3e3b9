import { changedInVisit } from './changed-in-visit.ts'
import type { Point, Visit } from './schema.ts'

/** Points that a first write to their indicator would leave without a check as found in this visit: afterwards there can be none. */
export function asFoundDue(visit: Visit | undefined, points: readonly Point[]): Point[] {
  if (!visit) return []
  const checked = (point: Point) => visit.checks.some((c) => c.pointId === point.id && c.when === 'as-found' && c.steps.length > 0)
  return points.filter((point) => !checked(point) && !changedInVisit(visit, point.indicatorId))
}
