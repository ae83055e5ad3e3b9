import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { SessionView } from '../../app/contract/views.ts'
import type { Bus, Indicator, Point, QuickCheck } from '../../app/job/schema.ts'
import type { Profile } from '../../app/profile/schema.ts'
import type { Result } from '../../app/result.ts'
import type { OpenBus } from '../bus/open-bus.ts'
import type { JobStore } from '../files/job-store.ts'
import type { Clock } from '../indicator/procedure.ts'
import type { IndicatorSession } from './indicator-session.ts'
import type { Topics } from './topics.ts'

/** The practice bench as the host reaches it: loads go on and off, nothing else is known of its sensors. */
export type BenchDoor = { setLoad(indicatorId: string, channel: number, load: number): void; close(): Promise<void> }

export type HostClock = Clock & {
  /** UTC instant as text. */
  stamp(): string
}

/** Everything the handlers share. One host owns one job and its ports. */
export type World = {
  store: JobStore
  topics: Topics
  clock: HostClock
  profiles: ReadonlyMap<string, Profile>
  buses: Map<string, OpenBus>
  sessions: Map<string, IndicatorSession>
  checks: Map<string, QuickCheck>
  bench: BenchDoor | null
  session: SessionView
  openBus(bus: Bus): Promise<Result<OpenBus, BusFailure>>
  newId(stem: string): string
}

export const busOf = (w: World, busId: string): Bus | undefined => w.store.job.buses.find((b) => b.id === busId)
export const indicatorOf = (w: World, indicatorId: string): Indicator | undefined =>
  w.store.job.indicators.find((i) => i.id === indicatorId)
export const pointOf = (w: World, pointId: string): Point | undefined => w.store.job.points.find((p) => p.id === pointId)
export const pointsOn = (w: World, indicatorId: string): Point[] => w.store.job.points.filter((p) => p.indicatorId === indicatorId)

export function publishJob(w: World): void {
  w.topics.set('job', undefined, w.store.job)
}

export function publishSession(w: World, change: Partial<SessionView>): void {
  w.session = { ...w.session, ...change }
  w.topics.set('session', undefined, w.session)
}

/** Saves a change of the job and tells everyone; says why where the disk refuses. */
export function saveJob(w: World, change: Parameters<JobStore['save']>[0]): ReturnType<JobStore['save']> {
  const saved = w.store.save(change)
  if (saved.ok) {
    publishJob(w)
    publishSession(w, { savedAt: w.clock.stamp() })
  }
  return saved
}
