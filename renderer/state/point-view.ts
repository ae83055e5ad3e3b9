import { useMemo, useSyncExternalStore } from 'react'
import type { IndicatorView, LiveView } from '../../app/contract/views.ts'
import type { Indicator, Job, Point, QuickCheck, Visit } from '../../app/job/schema.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { useHost, useTopic } from './host-context.tsx'
import { profileOf } from './profiles.ts'
import type { Store } from './store.ts'

/** All that is known of one measuring point, gathered for the screen. */
export type PointView = {
  job: Job
  point: Point
  indicator: Indicator | undefined
  profile: Profile | undefined
  state: IndicatorView | undefined
  live: LiveView | undefined
  /** Load that somebody said is on it now, and when; in the time of samples. */
  applied?: { load: string; at: number } | undefined
  visit: Visit | undefined
  /** The newest check, whatever the visit. */
  lastCheck: QuickCheck | undefined
  runningCheck: QuickCheck | undefined
}

export function usePointView(pointId: string): PointView | undefined {
  const { store } = useHost()
  const job = useTopic('job')
  const session = useTopic('session')
  const live = useTopic('live', pointId)
  const applied = useTopic('applied')
  const state = useTopic('indicator', job?.points.find((p) => p.id === pointId)?.indicatorId ?? '')
  // Told again whenever one of them changes; what is gathered is read in one place for one point and for many.
  return useMemo(() => {
    void [live, state, applied]
    return job && gather(store, job, session?.visitId ?? null, pointId)
  }, [store, job, session?.visitId, live, state, applied, pointId])
}

/** Several points at once, told anew at the pace of live values. */
export function usePointViews(pointIds: readonly string[]): PointView[] {
  const { store } = useHost()
  const version = useSyncExternalStore(store.subscribe, () => store.version)
  return useMemo(() => {
    void version
    const job = store.topic('job')
    return job ? pointIds.flatMap((id) => gather(store, job, store.topic('session')?.visitId ?? null, id) ?? []) : []
  }, [store, version, pointIds])
}

/** One point out of the store as it stands now. */
export function gather(store: Store, job: Job, visitId: string | null, pointId: string): PointView | undefined {
  const point = job.points.find((p) => p.id === pointId)
  if (!point) return undefined
  const indicator = job.indicators.find((i) => i.id === point.indicatorId)
  const checks = job.visits.flatMap((v) => v.checks).filter((c) => c.pointId === pointId)
  const visit = job.visits.find((v) => v.id === visitId)
  return {
    job,
    point,
    indicator,
    profile: indicator && profileOf(job, indicator.profileId),
    state: store.topic('indicator', point.indicatorId),
    live: store.topic('live', pointId),
    applied: store.topic('applied')?.loads[pointId],
    visit,
    lastCheck: checks.filter((c) => c.finishedAt !== undefined).at(-1),
    runningCheck: visit?.checks.find((c) => c.pointId === pointId && c.finishedAt === undefined),
  }
}

/** Value held under a register name for this point's channel, or for the whole indicator. */
export function heldValue(view: PointView, name: string): string | null | undefined {
  const values = view.state?.held?.values
  return (values?.[`${name}@${view.point.channel}`] ?? values?.[name])?.value
}

/** Differences that belong to this point: its own channel, or the whole indicator. */
export function ownDifferences(view: PointView) {
  return (view.state?.differs ?? []).filter((d) => !d.key.includes('@') || d.key.endsWith(`@${view.point.channel}`))
}

export function usePractice(pointId: string): string | undefined {
  return useTopic('practice')?.loads[pointId]
}
