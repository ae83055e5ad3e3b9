import type { Profile } from '../profile/schema.ts'
import { indicatorClash } from './indicator-rules.ts'
import { pointClash } from './point-rules.ts'
import type { Job } from './schema.ts'

/**
 * What does not fit together in a job file, though each value by itself is one; null where all does. The program keeps such a job
 * from being made, so it was changed by hand or put together from two. An unknown profile is no clash: its indicator is only not spoken to.
 */
export function jobClash(job: Job, profiles: ReadonlyMap<string, Profile>): { where: string; why: string } | null {
  for (const list of ['buses', 'indicators', 'points', 'visits'] as const) {
    const ids = job[list].map((item) => item.id)
    const twice = ids.findIndex((id, i) => ids.indexOf(id) !== i)
    if (twice >= 0) return { where: `${list}.${twice}.id`, why: `The id ${ids[twice]} is used twice; each has one of its own.` }
  }
  for (const [i, indicator] of job.indicators.entries()) {
    const clash = indicatorClash(indicator, job)
    if (clash) return { where: `indicators.${i}.${clash.where}`, why: `${indicator.name}: ${clash.why}` }
  }
  for (const [i, point] of job.points.entries()) {
    const clash = pointClash(point, job.points, job.indicators, profiles)
    if (clash) return { where: `points.${i}.${clash.where}`, why: `${point.tag}: ${clash.why}` }
  }
  return null
}
