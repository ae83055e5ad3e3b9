import type { Handlers } from '../../app/contract/contract.ts'
import { judgedBy } from '../../app/evaluation/as-judged.ts'
import { changedInVisit } from '../../app/job/changed-in-visit.ts'
import type { CheckStep, QuickCheck } from '../../app/job/schema.ts'
import { ok } from '../../app/result.ts'
import { handoverSheet } from '../report/handover-sheet.ts'
import type { LiveLoop } from './live-loop.ts'
import { refuse } from './refusals.ts'
import { unfitStatus } from './unfit-status.ts'
import { pointOf, presentVisit, saveJob, type World } from './world.ts'

type CheckCalls = Pick<Handlers, 'check.start' | 'check.capture' | 'check.take-back' | 'check.finish' | 'sheet.read'>

export function checkCalls(w: World, live: LiveLoop): CheckCalls {
  const keep = (check: QuickCheck) => {
    const saved = saveJob(w, (job) => ({
      ...job,
      visits: job.visits.map((v) =>
        v.id === w.session.visitId ? { ...v, checks: [...v.checks.filter((c) => c.id !== check.id), check] } : v,
      ),
    }))
    return saved.ok ? ok(check) : refuse(saved.failure.why, saved.failure.where)
  }

  /** One that was begun by mistake leaves nothing behind. */
  const drop = (check: QuickCheck) => {
    const saved = saveJob(w, (job) => ({
      ...job,
      visits: job.visits.map((v) => ({ ...v, checks: v.checks.filter((c) => c.id !== check.id) })),
    }))
    return saved.ok ? ok(check) : refuse(saved.failure.why, saved.failure.where)
  }

  const openCheck = (checkId: string) => {
    const check = presentVisit(w)?.checks.find((c) => c.id === checkId)
    if (!check) return refuse('This check is not one of this visit; start one.', 'checkId')
    return check.finishedAt ? refuse('This check is finished; start another.', 'checkId') : ok(check)
  }

  return {
    async 'check.start'({ pointId, when, standards }) {
      const point = pointOf(w, pointId)
      if (!point) return refuse(`There is no measuring point ${pointId} in this job.`, 'pointId')
      if (w.session.visitId === null) return refuse('Say who is at the machine first; a check carries a name.')
      if (when === 'as-found' && changedInVisit(presentVisit(w), point.indicatorId))
        return refuse(
          `The settings of ${point.tag} are no longer those found at the start of this visit: what it reads now is as left, not as found.`,
          'when',
        )
      const held = point.indicatorId ? w.sessions.get(point.indicatorId)?.view().held : null
      return keep({
        id: w.newId('check'),
        pointId,
        when,
        startedAt: w.clock.stamp(),
        by: w.session.by,
        unit: point.unit,
        steps: [],
        ...(standards?.trim() ? { standards: standards.trim() } : {}),
        ...(held ? { held } : {}),
      })
    },

    async 'check.capture'({ checkId, load, typed }) {
      const open = openCheck(checkId)
      if (!open.ok) return open
      const check = open.value
      const step =
        typed === undefined
          ? captureLive(w, live, check.pointId, load)
          : ok<CheckStep>({ load, reading: typed, origin: 'typed', at: w.clock.stamp(), samples: [] })
      if (!step.ok) return step
      return keep({ ...check, steps: [...check.steps, step.value] })
    },

    async 'check.take-back'({ checkId }) {
      const open = openCheck(checkId)
      if (!open.ok) return open
      const { steps, takenBack = [] } = open.value
      const last = steps.at(-1)
      if (!last) return refuse('Nothing was taken yet in this check.', 'checkId')
      return keep({ ...open.value, steps: steps.slice(0, -1), takenBack: [...takenBack, last] })
    },

    async 'check.finish'({ checkId }) {
      const open = openCheck(checkId)
      if (!open.ok) return open
      const { steps, takenBack } = open.value
      if (steps.length === 0 && !takenBack) return drop(open.value)
      const point = pointOf(w, open.value.pointId)
      return keep({ ...open.value, finishedAt: w.clock.stamp(), ...(point ? { judgedBy: judgedBy(point) } : {}) })
    },

    async 'sheet.read'({ pointId }) {
      const point = pointOf(w, pointId)
      if (!point) return refuse(`There is no measuring point ${pointId} in this job.`, 'pointId')
      return ok({ html: handoverSheet(w.store.job, point, w.profiles, w.session.visitId, { at: w.clock.stamp(), zone: w.clock.zone() }) })
    },
  }
}

/** A capture stands on two steady seconds of the indicator's own readings; an unsteady one is refused with the numbers. */
function captureLive(w: World, live: LiveLoop, pointId: string, load: string) {
  const view = w.topics.get('live', pointId)
  if (view?.state !== 'fresh') return refuse('There is no live reading now; look at the bus, or type the reading.')
  const { sample } = view
  const bad = unfitStatus(sample)
  if (bad) return refuse(`The indicator reports ${bad}; this reading is not captured.`)
  const steady = live.steadyNow(pointId)
  const point = pointOf(w, pointId)
  if (!steady.steady)
    return refuse(
      `Still moving: spread ${steady.spread.toPrecision(3)} over ${steady.windowMs / 1000} s, steady is at most ${point?.scaleInterval ?? '?'} ${point?.unit ?? ''}. Wait, or type the reading.`,
    )
  if (point && sample.unit !== point.unit)
    return refuse(`The indicator reads in ${sample.unit || 'no stated unit'}, the point in ${point.unit}; correct one of them first.`)
  const samples = live.captured(pointId)
  const reading = samples.at(-1)
  if (reading === undefined) return refuse('There is no live reading now.')
  return ok<CheckStep>({ load, reading: median(samples), origin: 'live', at: w.clock.stamp(), samples })
}

/** The middle one of the displayed readings: a value that was on the display, not one that never was. */
function median(texts: readonly string[]): string {
  const sorted = [...texts].sort((a, b) => Number(a) - Number(b))
  return sorted[Math.floor((sorted.length - 1) / 2)] ?? '0'
}
