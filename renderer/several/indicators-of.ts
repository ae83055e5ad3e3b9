import type { Indicator, Job } from '../../app/job/schema.ts'

export type IndicatorInScope = { indicator: Indicator; tags: string }

/** The indicators of these points, each once, with the tags of its points among them. */
export function indicatorsOf(job: Job, pointIds: readonly string[]): IndicatorInScope[] {
  const points = pointIds.flatMap((id) => job.points.filter((p) => p.id === id))
  return job.indicators.flatMap((indicator) => {
    const tags = points.filter((p) => p.indicatorId === indicator.id).map((p) => p.tag)
    return tags.length > 0 ? [{ indicator, tags: tags.join(', ') }] : []
  })
}
