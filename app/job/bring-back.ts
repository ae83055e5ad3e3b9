import type { Job, Point } from './schema.ts'

const lacking = <T extends { id: string }>(items: readonly T[], others: readonly { id: string }[]): T[] =>
  items.filter((item) => !others.some((other) => other.id === item.id))

/**
 * An earlier version in place of the present state of a job. What was decided is as it was then; what happened since stays: visits with all they hold,
 * the points that were checked and the indicators that were read in them, seals, addresses and lines (they may have been written).
 */
export function broughtBack(present: Job, version: Job): Job {
  const visits = [...present.visits, ...lacking(version.visits, present.visits)].sort((a, b) => a.startedAt.localeCompare(b.startedAt))
  const read = new Set(visits.flatMap((v) => [...Object.keys(v.found), ...Object.keys(v.left)]))
  const checked = new Set(visits.flatMap((v) => v.checks.map((c) => c.pointId)))

  const before = version.indicators.map((indicator) => {
    const now = present.indicators.find((i) => i.id === indicator.id)
    if (!now) return indicator
    return { ...indicator, busId: now.busId, unit: now.unit, ...(now.sealed ? { sealed: now.sealed } : {}) }
  })
  const since = lacking(present.indicators, before)
    .filter((i) => i.sealed || read.has(i.id) || present.points.some((p) => p.indicatorId === i.id && checked.has(p.id)))
    .filter((i) => !before.some((other) => other.busId === i.busId && other.unit === i.unit))
  const indicators = [...before, ...since]

  const buses = [
    ...version.buses.map((bus) => ({ ...bus, link: present.buses.find((b) => b.id === bus.id)?.link ?? bus.link })),
    ...lacking(present.buses, version.buses).filter((bus) => indicators.some((i) => i.busId === bus.id)),
  ]
  const alsoChecked = lacking(present.points, version.points)
    .filter((p) => checked.has(p.id))
    .map((p) => freed(p, version.points, indicators))
  return {
    ...version,
    revision: present.revision,
    buses,
    indicators,
    points: [...version.points, ...alsoChecked],
    visits,
    profiles: [...present.profiles, ...lacking(version.profiles, present.profiles)],
  }
}

/** A point that was checked since keeps its channel where that is free. */
function freed(point: Point, others: readonly Point[], indicators: Job['indicators']): Point {
  const taken = others.some((p) => p.indicatorId === point.indicatorId && p.channel === point.channel)
  if (!taken && indicators.some((i) => i.id === point.indicatorId)) return point
  const { indicatorId: _taken, ...rest } = point
  return rest
}
