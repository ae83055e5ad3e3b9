import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { SessionView } from '../../app/contract/views.ts'
import { type EditStep, editStep } from '../../app/job/edit-step.ts'
import type { Bus, Indicator, Job, Point, Visit } from '../../app/job/schema.ts'
import { stepWords } from '../../app/job/step-words.ts'
import type { Profile, SerialFormat } from '../../app/profile/schema.ts'
import type { Result } from '../../app/result.ts'
import type { Bench } from '../../simulator/index.ts'
import type { OpenBus } from '../bus/open-bus.ts'
import type { JobStore } from '../files/job-store.ts'
import type { Clock } from '../indicator/procedure.ts'
import type { IndicatorSession } from './indicator-session.ts'
import type { JobDoor } from './job-door.ts'
import { isDecidedAnew } from './stale-edit.ts'
import type { Topics } from './topics.ts'

/** The practice bench as the host reaches it: hands on the machine and eyes on its displays, nothing that tells of its sensors. */
export type BenchDoor = Pick<
  Bench,
  | 'buses'
  | 'units'
  | 'setLoad'
  | 'loads'
  | 'display'
  | 'pull'
  | 'plug'
  | 'pullUnit'
  | 'plugUnit'
  | 'pullSensors'
  | 'plugSensors'
  | 'adapter'
  | 'pullAdapter'
  | 'plugAdapter'
  | 'line'
  | 'setLine'
  | 'power'
  | 'powerCycle'
  | 'close'
>

export type NamedStep = EditStep & { label: string }
/** Edits of this serving of the job, latest last. */
export type EditHistory = { done: NamedStep[]; undone: NamedStep[] }
const longestHistory = 100

export type HostClock = Clock & {
  /** UTC instant as text. */
  stamp(): string
  /** IANA name of the time zone in which people here read a clock. */
  zone(): string
}

/** Everything the handlers share. One host owns one job and its ports. */
export type World = {
  store: JobStore
  topics: Topics
  clock: HostClock
  /** By id: bundled ones, then those of the job. */
  profiles: Map<string, Profile>
  buses: Map<string, OpenBus>
  /** Buses taken for something that keeps sessions off them, and what: "being scanned". */
  taken: Map<string, string>
  /** Buses that are being opened now. */
  opening: Map<string, Promise<Result<OpenBus, BusFailure>>>
  /** The host is being closed: nothing is opened any more. */
  closed: boolean
  history: EditHistory
  /** Revision of the latest version that differs from the one before in more than visits. */
  decidedAt: number
  /** Absent where this host serves one job only. */
  door: JobDoor | null
  sessions: Map<string, IndicatorSession>
  bench: BenchDoor | null
  session: SessionView
  /** Complete live readings per second of the slowest indicator of a bus; undefined until there are some. */
  rateOn(busId: string): number | undefined
  /** In another line format than its own where one is given; not for Modbus TCP. */
  openBus(bus: Bus, format?: SerialFormat): Promise<Result<OpenBus, BusFailure>>
  newId(stem: string): string
}

export const busOf = (w: World, busId: string): Bus | undefined => w.store.job.buses.find((b) => b.id === busId)
export const indicatorOf = (w: World, indicatorId: string): Indicator | undefined =>
  w.store.job.indicators.find((i) => i.id === indicatorId)
export const pointOf = (w: World, pointId: string): Point | undefined => w.store.job.points.find((p) => p.id === pointId)
export const presentVisit = (w: World): Visit | undefined => w.store.job.visits.find((v) => v.id === w.session.visitId)
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
  const before = w.store.job
  const saved = w.store.save(change)
  if (saved.ok) {
    if (isDecidedAnew(before, saved.value)) w.decidedAt = saved.value.revision
    publishJob(w)
    publishSession(w, { savedAt: w.clock.stamp() })
  }
  return saved
}

/** Saves an edit of what people decide, as a step that can be taken back. */
export function editJob(w: World, change: (job: Job) => Job, label?: string): ReturnType<JobStore['save']> {
  const before = w.store.job
  const saved = saveJob(w, change)
  const step = saved.ok ? editStep(before, saved.value) : null
  if (saved.ok && step) {
    w.history.done.push({ ...step, label: label ?? stepWords(step, before, saved.value) })
    if (w.history.done.length > longestHistory) w.history.done.shift()
    w.history.undone.length = 0
    publishHistory(w)
  }
  return saved
}

export function publishHistory(w: World): void {
  publishSession(w, { undo: w.history.done.at(-1)?.label ?? null, redo: w.history.undone.at(-1)?.label ?? null })
}
