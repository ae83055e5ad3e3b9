import { indicatorOf, type World } from './world.ts'

/** Why the open job must not be left now; null where it may: a write needs this host, and so does the way back from one that was interrupted. */
export function whyNotLeave(w: World): string | null {
  for (const [indicatorId, session] of w.sessions) {
    const name = indicatorOf(w, indicatorId)?.name ?? indicatorId
    if (session.view().writing) return `A write to ${name} is under way; wait until it has ended, then open another job.`
    if (session.view().openWrite)
      return `An earlier write to ${name} was interrupted. Restore, complete or leave it first, then open another job.`
  }
  return null
}
