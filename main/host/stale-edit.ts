import { sameValue } from '../../app/job/same-value.ts'
import type { Job } from '../../app/job/schema.ts'
import { fail } from '../../app/result.ts'
import type { World } from './world.ts'

/** Whether two versions of a job differ in more than what happened in visits. */
export const isDecidedAnew = (before: Job, after: Job): boolean => !sameValue(withoutVisits(before), withoutVisits(after))

const withoutVisits = ({ visits: _visits, revision: _revision, ...decided }: Job) => decided

/**
 * Refuses an edit that was made on an older version of the job, with what is held now; null where it may be made. What this host
 * records by itself in a visit, such as settings as found, makes nobody's edit stale.
 */
export const staleEdit = <N>(w: World, revision: number, newer: N) =>
  revision >= w.decidedAt && revision <= w.store.job.revision
    ? null
    : fail({ kind: 'stale' as const, revision: w.store.job.revision, newer })
