import type { VisitComparison } from '../contract/visit-calls.ts'
import type { Profile } from '../profile/schema.ts'
import { moved, settingRegisters } from '../profile/settings.ts'
import { fail, ok, type Result } from '../result.ts'
import { pointDriftOf } from './point-drift.ts'
import type { Indicator, Job, Visit } from './schema.ts'
import { visitNameOf } from './visit-name.ts'

/**
 * Two visits of a job against each other: settings as found now against as left then, and what quick checks say of zero and span.
 * Fails with a sentence where the job has no such visits.
 */
export function compareVisits(
  job: Job,
  profiles: ReadonlyMap<string, Profile>,
  wanted: { later?: string | undefined; earlier?: string | undefined } = {},
): Result<VisitComparison, string> {
  const visits = [...job.visits].sort((a, b) => a.startedAt.localeCompare(b.startedAt))
  const later = wanted.later === undefined ? visits.at(-1) : visits.find((v) => v.id === wanted.later)
  if (!later) return fail(wanted.later === undefined ? 'The job has no visit yet.' : `The job has no visit ${wanted.later}.`)
  const before = visits.slice(0, visits.indexOf(later)).toReversed()
  if (wanted.earlier !== undefined && !before.some((v) => v.id === wanted.earlier))
    return fail(`The job has no visit ${wanted.earlier} before that of ${later.startedAt}.`)
  const earlier = wanted.earlier === undefined ? before : before.filter((v) => v.id === wanted.earlier)
  if (earlier.length === 0) return fail('This is the first visit: there is none before it to compare with.')
  return ok({
    later: visitNameOf(later),
    indicators: job.indicators.map((indicator) => indicatorChange(indicator, profiles.get(indicator.profileId), later, earlier)),
    points: job.points.map((point) => {
      const indicator = job.indicators.find((i) => i.id === point.indicatorId)
      return pointDriftOf(point, indicator && profiles.get(indicator.profileId), later, earlier)
    }),
  })
}

function indicatorChange({ id, name }: Indicator, profile: Profile | undefined, later: Visit, earlier: readonly Visit[]) {
  const nothing = (why: string) => ({ indicatorId: id, name, since: null, compared: 0, moved: [], why })
  if (!profile) return nothing('Its profile is not known here.')
  const found = later.found[id]
  if (!found) return nothing('Its settings were not read in the later visit.')
  const then = earlier.find((v) => v.left[id])
  const left = then?.left[id]
  if (!then || !left) return nothing('Its settings were not read in an earlier visit.')
  const keys = Object.keys(found.values).filter((key) => left.values[key])
  if (settingRegisters(profile).length > 0 && keys.length === 0) return nothing('The two reads have no setting in common.')
  return { indicatorId: id, name, since: visitNameOf(then), compared: keys.length, moved: moved(profile, left, found) }
}
