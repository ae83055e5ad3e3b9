import type { Handlers } from '../../app/contract/contract.ts'
import { newlyImpossible } from '../../app/job/edit-limits.ts'
import { indicatorClash, profileUnknown } from '../../app/job/indicator-rules.ts'
import { heldByAnother } from '../../app/job/intended.ts'
import { pointClash } from '../../app/job/point-rules.ts'
import type { Bus, Indicator, Job, Point } from '../../app/job/schema.ts'
import { ok } from '../../app/result.ts'
import { bundleLimits } from '../files/bundle.ts'
import { writeBundle } from '../files/write-bundle.ts'
import type { FileWorker } from './file-work.ts'
import type { LiveLoop } from './live-loop.ts'
import { meet } from './meet.ts'
import { refuse } from './refusals.ts'
import { sealAfter, sealHolds, sealRefused } from './seal-rules.ts'
import { addSession, dropSession } from './sessions.ts'
import { staleEdit } from './stale-edit.ts'
import { dropBus } from './topics.ts'
import { busOf, editJob, indicatorOf, pointOf, pointsOn, type World } from './world.ts'

type JobEditCalls = Pick<
  Handlers,
  | 'job.edit'
  | 'job.bundle'
  | 'bus.add'
  | 'bus.edit'
  | 'bus.remove'
  | 'indicator.add'
  | 'indicator.edit'
  | 'indicator.remove'
  | 'point.add'
  | 'point.remove'
>

/** Edits of what a job consists of. What is in use on the wire or stands in evidence is not taken away. */
export function jobEditCalls(w: World, live: LiveLoop, recorded: () => readonly string[], files: FileWorker): JobEditCalls {
  const stale = (revision: number) => staleEdit(w, revision, w.store.job)
  const keep = (change: (job: Job) => Job) => {
    const saved = editJob(w, change)
    return saved.ok ? ok({ revision: saved.value.revision }) : refuse(saved.failure.why, saved.failure.where)
  }

  return {
    async 'job.edit'({ revision, change }) {
      return stale(revision) ?? keep((job) => ({ ...job, ...present(change) }))
    },
    async 'job.bundle'({ to }) {
      const written = await files.run('packing', (work) => writeBundle(w.store.path, to, bundleLimits, work))
      return written.ok ? written : refuse(written.failure.why, written.failure.where)
    },

    async 'bus.add'({ revision, bus }) {
      const added: Bus = { ...bus, id: w.newId('bus') }
      const wrong = stale(revision) ?? unfitLink(w, added)
      if (wrong) return wrong
      const kept = keep((job) => ({ ...job, buses: [...job.buses, added] }))
      if (!kept.ok) return kept
      w.topics.set('bus', added.id, { state: 'closed', answering: 0, silent: 0 })
      return ok({ ...kept.value, id: added.id })
    },
    async 'bus.edit'({ revision, busId, change }) {
      const held = busOf(w, busId)
      if (!held) return refuse(`There is no bus ${busId} in this job.`, 'busId')
      const next: Bus = { ...held, ...present(change) }
      const wrong = stale(revision) ?? unfitLink(w, next)
      if (wrong) return wrong
      if (change.link && (w.buses.has(busId) || w.taken.has(busId)))
        return refuse(`${held.name} is open. Close it, then change how it is reached.`, 'link')
      return keep((job) => ({ ...job, buses: job.buses.map((b) => (b.id === busId ? next : b)) }))
    },
    async 'bus.remove'({ revision, busId }) {
      if (!busOf(w, busId)) return refuse(`There is no bus ${busId} in this job.`, 'busId')
      const old = stale(revision)
      if (old) return old
      const on = w.store.job.indicators.filter((i) => i.busId === busId)
      if (on.length > 0) return refuse(`On this bus are ${on.map((i) => i.name).join(', ')}; remove or move them first.`, 'busId')
      if (w.buses.has(busId) || w.taken.has(busId)) return refuse('The bus is open. Close it first.', 'busId')
      const kept = keep((job) => ({ ...job, buses: job.buses.filter((b) => b.id !== busId) }))
      if (kept.ok) dropBus(w.topics, busId)
      return kept
    },

    async 'indicator.add'({ revision, indicator }) {
      const { sealed, ...fields } = indicator
      const added: Indicator = { ...fields, id: w.newId('ind'), ...sealAfter(undefined, sealed, w.clock.stamp()) }
      const wrong = stale(revision) ?? unfitIndicator(w, added) ?? sealRefused(fields, sealed)
      if (wrong) return wrong
      const kept = keep((job) => ({ ...job, indicators: [...job.indicators, added] }))
      if (!kept.ok) return kept
      addSession(w, added)
      if (w.buses.has(added.busId)) void meet(w, added)
      return ok({ ...kept.value, id: added.id })
    },
    async 'indicator.edit'({ revision, indicatorId, change }) {
      const held = indicatorOf(w, indicatorId)
      if (!held) return refuse(`There is no indicator ${indicatorId} in this job.`, 'indicatorId')
      const { sealed, ...fields } = change
      const next: Indicator = { ...held, ...present(fields), ...sealAfter(held.sealed, sealed, w.clock.stamp()) }
      const wrong = stale(revision) ?? unfitIndicator(w, next) ?? inUse(w, held) ?? sealRefused(held, sealed)
      if (wrong) return wrong
      const crowded = pointsOn(w, indicatorId).find((p) => p.channel > (w.profiles.get(next.profileId)?.channels ?? 0))
      if (crowded) return refuse(`${crowded.tag} measures channel ${crowded.channel}, which this profile does not have.`, 'profileId')
      const profile = next.profileId === held.profileId ? undefined : w.profiles.get(next.profileId)
      const measured = (point: Point) =>
        profile && point.indicatorId === indicatorId ? { ...point, intended: heldByAnother(point.intended, profile) } : point
      const kept = keep((job) => ({
        ...job,
        indicators: job.indicators.map((i) => (i.id === indicatorId ? next : i)),
        points: job.points.map(measured),
      }))
      // A name leaves the session as it is; anything else makes it another unit, to be identified again.
      if (kept.ok && Object.keys(present(change)).some((key) => key !== 'name')) {
        addSession(w, next)
        live.want(live.wanted())
        if (w.buses.has(next.busId)) void meet(w, next)
      }
      return kept
    },
    async 'indicator.remove'({ revision, indicatorId }) {
      const held = indicatorOf(w, indicatorId)
      if (!held) return refuse(`There is no indicator ${indicatorId} in this job.`, 'indicatorId')
      const wrong = stale(revision) ?? inUse(w, held) ?? sealHolds(held)
      if (wrong) return wrong
      const points = pointsOn(w, indicatorId)
      if (points.length > 0) return refuse(`It measures ${points.map((p) => p.tag).join(', ')}; give them another indicator first.`)
      const kept = keep((job) => ({ ...job, indicators: job.indicators.filter((i) => i.id !== indicatorId) }))
      if (kept.ok) dropSession(w, indicatorId)
      return kept
    },

    async 'point.add'({ revision, point }) {
      const added: Point = { ...point, id: w.newId('point'), intended: {} }
      const old = stale(revision)
      if (old) return old
      const { points, indicators } = w.store.job
      const clash = pointClash(added, points, indicators, w.profiles) ?? newlyImpossible(added)
      if (clash) return refuse(clash.why, clash.where)
      const kept = keep((job) => ({ ...job, points: [...job.points, added] }))
      if (!kept.ok) return kept
      w.topics.set('live', added.id, { state: 'never-read' })
      live.want([...live.wanted(), added.id])
      return ok({ ...kept.value, id: added.id })
    },
    async 'point.remove'({ revision, pointId }) {
      const held = pointOf(w, pointId)
      if (!held) return refuse(`There is no measuring point ${pointId} in this job.`, 'pointId')
      const old = stale(revision)
      if (old) return old
      if (recorded().includes(pointId)) return refuse(`${held.tag} is being recorded; stop that first.`, 'pointId')
      const checks = w.store.job.visits.flatMap((v) => v.checks).filter((c) => c.pointId === pointId).length
      if (checks > 0) return refuse(`${held.tag} has ${checks} check(s) in visits; evidence is not taken away.`, 'pointId')
      const kept = keep((job) => ({ ...job, points: job.points.filter((p) => p.id !== pointId) }))
      if (!kept.ok) return kept
      live.want(live.wanted().filter((wanted) => wanted !== pointId))
      w.topics.drop('live', pointId)
      return kept
    },
  }
}

/** A practice job has practice buses only, a real one none: what is simulated is said once for the whole job. */
export function unfitLink(w: World, bus: Bus, job: Pick<Job, 'buses'> = w.store.job) {
  if ((bus.link.kind === 'practice') !== w.store.job.simulated)
    return refuse(
      w.store.job.simulated ? 'This is a practice job: its buses are the bench.' : 'The practice bench belongs to practice jobs.',
      'link',
    )
  // A port opens once, and a small gateway has one socket: what shares the way shares the bus.
  const twin = job.buses.find((b) => b.id !== bus.id && placeOf(b) === placeOf(bus))
  return twin ? refuse(`${twin.name} goes the same way already; put these indicators on that bus.`, 'link') : null
}

function placeOf({ link }: Bus): string {
  if (link.kind === 'serial') return link.path
  return link.kind === 'practice' ? link.bus : `${link.host.toLowerCase()}:${link.port}`
}

export function unfitIndicator(w: World, indicator: Indicator, job: Pick<Job, 'buses' | 'indicators'> = w.store.job) {
  const clash = profileUnknown(indicator.profileId, w.profiles) ?? indicatorClash(indicator, job)
  return clash && refuse(clash.why, clash.where)
}

export function inUse(w: World, indicator: Indicator) {
  const view = w.sessions.get(indicator.id)?.view()
  if (view?.writing) return refuse('A write is under way; wait until it has ended.')
  if (view?.openWrite) return refuse('An earlier write was interrupted. Restore, complete or leave it first.')
  return null
}

function present<T extends object>(change: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(change).filter(([, v]) => v !== undefined)) as { [K in keyof T]: Exclude<T[K], undefined> }
}
