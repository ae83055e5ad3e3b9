import type { Handlers } from '../../app/contract/contract.ts'
import type { JobVersion } from '../../app/contract/job-file-calls.ts'
import { broughtBack } from '../../app/job/bring-back.ts'
import { editStep } from '../../app/job/edit-step.ts'
import type { Job } from '../../app/job/schema.ts'
import { stepWords } from '../../app/job/step-words.ts'
import { ok } from '../../app/result.ts'
import { type KeptVersion, keptVersions, readVersion } from '../files/earlier-versions.ts'
import { followJob, whyNotBecome } from './follow-job.ts'
import type { LiveLoop } from './live-loop.ts'
import { refuse } from './refusals.ts'
import { staleEdit } from './stale-edit.ts'
import { editJob, type World } from './world.ts'

export function versionCalls(
  w: World,
  live: LiveLoop,
  recorded: () => readonly string[],
): Pick<Handlers, 'job.versions' | 'job.bring-back'> {
  return {
    async 'job.versions'() {
      return ok({ versions: keptVersions(w.store.path).map((kept) => shownVersion(kept, w.store.job)) })
    },

    async 'job.bring-back'({ revision, version }) {
      const before = w.store.job
      const old = staleEdit(w, revision, before)
      if (old) return old
      const read = readVersion(w.store.path, version)
      if (!read.ok) return refuse(read.failure.why, read.failure.where)
      if (read.value.id !== before.id || read.value.simulated !== before.simulated)
        return refuse('This is a version of another job.', 'version')
      const next = broughtBack(before, read.value)
      const wrong = whyNotBecome(w, recorded(), next)
      if (wrong) return wrong
      const kept = w.store.keepVersion(w.clock.stamp())
      if (!kept.ok) return refuse(kept.failure.why, kept.failure.where)
      const saved = editJob(w, () => next, `Version ${version} brought back`)
      if (!saved.ok) return refuse(saved.failure.why, saved.failure.where)
      followJob(w, live, before)
      return ok({ revision: saved.value.revision, keptAs: kept.value })
    },
  }
}

export function shownVersion({ version, keptAt, bytes, job }: KeptVersion, now: Job): JobVersion {
  if (!job.ok) return { version, keptAt, bytes, why: `${job.failure.where}: ${job.failure.why}` }
  const then = broughtBack(now, job.value)
  const step = editStep(then, now)
  return {
    version,
    keptAt,
    bytes,
    changes: step ? stepWords(step, then, now) : 'Nothing',
    revision: job.value.revision,
    points: job.value.points.length,
  }
}
