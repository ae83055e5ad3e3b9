import { pointsOf } from '../../app/job/intended.ts'
import type { Job } from '../../app/job/schema.ts'
import type { WriteResult } from './use-reviews.ts'

/** Who is written to, by tag: the points that these settings are of; all of the indicator where none is known; else its name. */
export function writeName(job: Job, indicatorId: string, keys: readonly string[] = []): string {
  const on = job.points.filter((p) => p.indicatorId === indicatorId)
  const theirs = pointsOf(on, keys)
  return (
    (theirs.length > 0 ? theirs : on).map((p) => p.tag).join(', ') ||
    (job.indicators.find((i) => i.id === indicatorId)?.name ?? indicatorId)
  )
}

/** Settings that a write was of, by key; none where that is not known. */
export function keysWritten(result: WriteResult): string[] {
  if ('unreached' in result) return []
  if (result.ok) return result.receipt.written.map((d) => d.key)
  return result.failure.kind === 'failed' ? result.failure.parameters.map((p) => p.key) : []
}
