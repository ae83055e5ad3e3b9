import type { Handlers } from '../../app/contract/contract.ts'
import { reversed, withStep } from '../../app/job/edit-step.ts'
import { sameValue } from '../../app/job/same-value.ts'
import type { Intended, Job } from '../../app/job/schema.ts'
import { ok } from '../../app/result.ts'
import { followJob, whyNotBecome } from './follow-job.ts'
import type { LiveLoop } from './live-loop.ts'
import { refuse } from './refusals.ts'
import { staleEdit } from './stale-edit.ts'
import { type NamedStep, publishHistory, saveJob, type World } from './world.ts'

type Held = { pointId: string; tag: string; intended: Intended }

/** What is intended for each point and held by its indicator. */
const heldAsIntended = (w: World, job: Job): Held[] =>
  job.points.flatMap(({ id, tag, indicatorId, intended }) => {
    const view = w.sessions.get(indicatorId ?? '')?.view()
    if (!view?.held) return []
    const agrees = Object.entries(intended).filter(([key]) => !view.differs.some((d) => d.key === key))
    return [{ pointId: id, tag, intended: Object.fromEntries(agrees) }]
  })

const isOtherwise = (job: Job, { pointId, intended }: Held): boolean => {
  const then = job.points.find((p) => p.id === pointId)
  return then !== undefined && Object.entries(intended).some(([key, value]) => then.intended[key] !== value)
}

/** Undo and redo of edits. A step that cannot be made now is refused with the reason and stays where it was. */
export function historyCalls(w: World, live: LiveLoop, recorded: () => readonly string[]): Pick<Handlers, 'job.undo' | 'job.redo'> {
  function move(revision: number, from: NamedStep[], to: NamedStep[], way: 'undo' | 'redo') {
    const before = w.store.job
    const old = staleEdit(w, revision, before)
    if (old) return old
    const step = from.at(-1)
    if (!step) return refuse(`There is nothing to ${way}.`)
    const next = withStep(before, way === 'undo' ? reversed(step) : step)
    if (sameValue(next, before)) {
      from.pop()
      publishHistory(w)
      return refuse(
        `"${step.label}" cannot be taken ${way === 'undo' ? 'back' : 'up again'}: what it changed has been changed otherwise since.`,
      )
    }
    const held = heldAsIntended(w, before)
    const wrong = whyNotBecome(w, recorded(), next)
    if (wrong) return wrong
    const saved = saveJob(w, () => next)
    if (!saved.ok) return refuse(saved.failure.why, saved.failure.where)
    from.pop()
    to.push(step)
    followJob(w, live, before)
    publishHistory(w)
    return ok({ revision: saved.value.revision, label: step.label, keeps: held.filter((h) => isOtherwise(next, h)).map((h) => h.tag) })
  }
  return {
    async 'job.undo'({ revision }) {
      return move(revision, w.history.done, w.history.undone, 'undo')
    },
    async 'job.redo'({ revision }) {
      return move(revision, w.history.undone, w.history.done, 'redo')
    },
  }
}
