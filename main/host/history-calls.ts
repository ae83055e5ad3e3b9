import type { Handlers } from '../../app/contract/contract.ts'
import { reversed, withStep } from '../../app/job/edit-step.ts'
import { sameValue } from '../../app/job/same-value.ts'
import { ok } from '../../app/result.ts'
import { followJob, whyNotBecome } from './follow-job.ts'
import type { LiveLoop } from './live-loop.ts'
import { refuse } from './refusals.ts'
import { staleEdit } from './stale-edit.ts'
import { type NamedStep, publishHistory, saveJob, type World } from './world.ts'

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
    const wrong = whyNotBecome(w, recorded(), next)
    if (wrong) return wrong
    const saved = saveJob(w, () => next)
    if (!saved.ok) return refuse(saved.failure.why, saved.failure.where)
    from.pop()
    to.push(step)
    followJob(w, live, before)
    publishHistory(w)
    return ok({ revision: saved.value.revision, label: step.label })
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
