import type { Handlers } from '../../app/contract/contract.ts'
import type { PointChange } from '../../app/contract/point-change.ts'
import { neverNought } from '../../app/evaluation/zero-setting.ts'
import { newlyImpossible } from '../../app/job/edit-limits.ts'
import { givenIn, intendedAfter, isFor, withIntended } from '../../app/job/intended.ts'
import { takenAt, withZero } from '../../app/job/measured.ts'
import { pointClash } from '../../app/job/point-rules.ts'
import type { Point } from '../../app/job/schema.ts'
import { visitGoing } from '../../app/job/visit-going.ts'
import { whyNotIntended } from '../../app/profile/intended-value.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { ok } from '../../app/result.ts'
import { measuredAt, proposeScaling } from '../../app/scaling/propose-scaling.ts'
import { beyondSensors } from '../../app/scaling/sensor-limits.ts'
import { tellLoad } from './applied-load-calls.ts'
import { disagreement, ofOnePoint, sharedDisagreement, whyNotTakenBack } from './intend-rules.ts'
import type { LiveLoop } from './live-loop.ts'
import { refuse } from './refusals.ts'
import { staleEdit } from './stale-edit.ts'
import { unfitStatus } from './unfit-status.ts'
import { editJob, indicatorOf, pointOf, pointsOn, presentVisit, publishSession, saveJob, type World } from './world.ts'

function changed(point: Point, change: PointChange): Point {
  const { verificationInterval, ...rest } = withoutUndefined(change)
  const { verificationInterval: held, ...others } = point
  const stated = verificationInterval === undefined ? held : verificationInterval
  return { ...others, ...rest, ...(stated == null ? {} : { verificationInterval: stated }) }
}

type JobCalls = Pick<
  Handlers,
  'visit.start' | 'point.edit' | 'points.edit' | 'point.intend' | 'indicator.intend' | 'point.measure-zero' | 'point.measure-load'
>

export function jobCalls(w: World, live: LiveLoop): JobCalls {
  /** All of the changes or none; the first that clashes is named. */
  const changePoints = (revision: number, changes: ReadonlyMap<string, (point: Point) => Point>) => {
    const { points, indicators } = w.store.job
    const unknown = [...changes.keys()].find((pointId) => !pointOf(w, pointId))
    if (unknown !== undefined) return refuse(`There is no measuring point ${unknown} in this job.`, 'pointId')
    const held = points.filter((p) => changes.has(p.id))
    const [only] = held
    const old = staleEdit(w, revision, held.length === 1 ? only : held)
    if (old) return old
    const profileOf = (id: string | undefined) => w.profiles.get(indicators.find((i) => i.id === id)?.profileId ?? '')
    const next = points.map((p) => {
      const changed = changes.get(p.id)?.(p)
      return changed ? { ...changed, intended: intendedAfter(p, changed, profileOf) } : p
    })
    for (const point of next) {
      if (!changes.has(point.id)) continue
      const clash = pointClash(point, next, indicators, w.profiles) ?? newlyImpossible(point, pointOf(w, point.id))
      if (clash) return refuse(changes.size > 1 ? `${point.tag}: ${clash.why}` : clash.why, clash.where)
    }
    const saved = editJob(w, (job) => ({ ...job, points: next }))
    if (!saved.ok) return refuse(saved.failure.why, saved.failure.where)
    const now = next.filter((p) => changes.has(p.id))
    for (const id of new Set([...held, ...now].map((p) => p.indicatorId))) if (id) w.sessions.get(id)?.refresh()
    if (now.some((p) => p.indicatorId !== held.find((h) => h.id === p.id)?.indicatorId)) live.want(live.wanted())
    for (const p of now) {
      const before = held.find((h) => h.id === p.id)
      // "Vented" is another amount once it is absolute, and 200 kg are not 200 lb.
      if (before?.unit !== p.unit || before.loadPath.pressure !== p.loadPath.pressure) tellLoad(w, p.id, null)
    }
    return ok({ revision: saved.value.revision })
  }
  const changePoint = (pointId: string, revision: number, change: (point: Point) => Point) =>
    changePoints(revision, new Map([[pointId, change]]))

  /** Mean of the signal over the time that the reading has stood steady; refused with what is wrong. */
  const steadySignal = (pointId: string) => {
    const view = w.topics.get('live', pointId)
    if (view?.state !== 'fresh' || view.sample.signalOrigin !== 'measured')
      return refuse('This indicator gives no measured signal now; read the signal at its display and type it.', 'pointId')
    const bad = unfitStatus(view.sample)
    if (bad) return refuse(`The indicator reports ${bad}; this signal is not taken. Check wiring, input range and load first.`)
    const steady = live.steadyNow(pointId)
    if (!steady.steady)
      return refuse(`Still moving: spread ${steady.spread.toPrecision(3)} over ${steady.windowMs / 1000} s. Wait until it is steady.`)
    return ok({ value: live.meanSignal(pointId).toFixed(5), unit: view.sample.signalUnit })
  }

  return {
    async 'visit.start'({ by, resume }) {
      const latest = resume ? visitGoing(w.store.job.visits, w.clock.stamp()) : undefined
      const going = latest?.by === by ? latest : undefined
      const visitId = going?.id ?? w.newId('visit')
      if (!going) {
        const why = whyNotBegin(w)
        if (why) return refuse(why)
        const saved = saveJob(w, (job) => ({
          ...job,
          visits: [...job.visits, { id: visitId, startedAt: w.clock.stamp(), by, found: {}, left: {}, checks: [] }],
        }))
        if (!saved.ok) return refuse(saved.failure.why, saved.failure.where)
      }
      publishSession(w, { visitId, by })
      for (const [indicatorId, session] of w.sessions) {
        const { held } = session.view()
        if (held) keepAsFound(w, indicatorId, held)
      }
      return ok({ visitId })
    },

    async 'point.edit'({ pointId, revision, change }) {
      return changePoint(pointId, revision, (point) => changed(point, change))
    },

    async 'points.edit'({ revision, edits }) {
      const twice = edits.find((e, i) => edits.findIndex((other) => other.pointId === e.pointId) !== i)
      if (twice) return refuse(`The point ${twice.pointId} is named twice.`, 'edits')
      return changePoints(revision, new Map(edits.map((e) => [e.pointId, (point) => changed(point, e.change)])))
    },

    async 'point.intend'({ pointId, revision, values: change }) {
      const held = pointOf(w, pointId)
      const indicator = held?.indicatorId ? indicatorOf(w, held.indicatorId) : undefined
      const profile = indicator && w.profiles.get(indicator.profileId)
      if (!held || !profile) return refuse('This point has no indicator yet; give it one first.', 'pointId')
      const image = w.sessions.get(indicator.id)?.view().held ?? null
      const values = givenIn(change)
      for (const key of Object.keys(values)) {
        const why = isFor(key, held.channel)
          ? whyNotIntended(profile, key, { ...held.intended, ...values }, image)
          : `${settingWords(key, profile.channels)} is not of channel ${held.channel}, which ${held.tag} measures.`
        if (why) return refuse(why, 'values')
      }
      const wrong =
        disagreement(held, values, proposeScaling(held, profile, measuredAt(held))) ??
        beyondSensors([held], profile, values) ??
        sharedDisagreement(held, change, w.store.job.points) ??
        whyNotTakenBack([held], change)
      if (wrong) return refuse(wrong, 'values')
      return changePoint(pointId, revision, (point) => ({ ...point, intended: withIntended(point.intended, change) }))
    },

    async 'indicator.intend'({ indicatorId, revision, values: change }) {
      const indicator = indicatorOf(w, indicatorId)
      const profile = indicator && w.profiles.get(indicator.profileId)
      if (!profile) return refuse(`There is no indicator ${indicatorId} with a known profile in this job.`, 'indicatorId')
      const old = staleEdit(w, revision, w.store.job)
      if (old) return old
      const points = pointsOn(w, indicatorId)
      if (points.length === 0) return refuse(`${indicator.name} has no measuring point that could intend anything; give it one first.`)
      const [first] = points
      const image = w.sessions.get(indicatorId)?.view().held ?? null
      const values = givenIn(change)
      for (const key of Object.keys(change)) {
        const own = ofOnePoint(profile, key)
        const why = own ?? (change[key] === null ? null : whyNotIntended(profile, key, { ...first?.intended, ...values }, image))
        if (why) return refuse(why, 'values')
      }
      const wrong = beyondSensors(points, profile, values) ?? whyNotTakenBack(points, change)
      if (wrong) return refuse(wrong, 'values')
      const saved = editJob(w, (job) => ({
        ...job,
        points: job.points.map((p) => (p.indicatorId === indicatorId ? { ...p, intended: withIntended(p.intended, change) } : p)),
      }))
      if (!saved.ok) return refuse(saved.failure.why, saved.failure.where)
      w.sessions.get(indicatorId)?.refresh()
      return ok({ revision: saved.value.revision })
    },

    async 'point.measure-zero'({ pointId, revision }) {
      const point = pointOf(w, pointId)
      const never = point ? neverNought(point, 'taken as the zero') : null
      if (never !== null) return refuse(never, 'pointId')
      const signal = steadySignal(pointId)
      if (!signal.ok) return signal
      return changePoint(pointId, revision, (p) => ({ ...p, measured: withZero(p.measured, signal.value) }))
    },

    async 'point.measure-load'({ pointId, revision, load }) {
      const signal = steadySignal(pointId)
      if (!signal.ok) return signal
      return changePoint(pointId, revision, (p) => {
        const { excitation, loads = [] } = p.measured
        const taken = {
          load: { value: load, unit: p.unit },
          signal: signal.value,
          at: w.clock.stamp(),
          ...takenAt(signal.value, excitation),
        }
        return { ...p, measured: { ...p.measured, loads: [...loads, taken] } }
      })
    },
  }
}

/** Why no other visit can begin now: what is under way belongs to the present one. */
function whyNotBegin(w: World): string | null {
  const check = presentVisit(w)?.checks.find((c) => c.finishedAt === undefined)
  if (check) return `A check of ${pointOf(w, check.pointId)?.tag ?? check.pointId} is running; finish or end it first.`
  for (const [indicatorId, session] of w.sessions)
    if (session.view().writing)
      return `A write to ${indicatorOf(w, indicatorId)?.name ?? indicatorId} is under way; wait until it has ended.`
  return null
}

function withoutUndefined<T extends object>(change: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(change).filter(([, v]) => v !== undefined)) as { [K in keyof T]: Exclude<T[K], undefined> }
}

/** The first complete settings read of an indicator in a visit is kept unchangeable as found; every later one as left. */
export function keepAsFound(
  w: World,
  indicatorId: string,
  image: NonNullable<World['store']['job']['visits'][number]['found'][string]>,
): void {
  const { visitId } = w.session
  if (visitId === null) return
  saveJob(w, (job) => ({
    ...job,
    visits: job.visits.map((v) =>
      v.id === visitId ? { ...v, found: { [indicatorId]: image, ...v.found }, left: { ...v.left, [indicatorId]: image } } : v,
    ),
  }))
}
