import type { Handlers } from '../../app/contract/contract.ts'
import { parseProfile } from '../../app/profile/read-profile.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { profileFileName, profileText, writeProfile } from '../files/description-files.ts'
import type { LiveLoop } from './live-loop.ts'
import { refuse } from './refusals.ts'
import { addSession } from './sessions.ts'
import { pointsOn, saveJob, type World } from './world.ts'

export function profileCalls(w: World, live: LiveLoop): Pick<Handlers, 'profile.export' | 'profile.import'> {
  return {
    async 'profile.export'({ profileId }) {
      const profile = w.profiles.get(profileId)
      return profile ? ok({ file: profileFileName(profile), text: profileText(profile) }) : refuse(`There is no profile ${profileId}.`)
    },

    async 'profile.import'({ text, replace }) {
      const read = parseProfile(text)
      if (!read.ok) return fail({ kind: 'unfit' as const, problems: read.failure.problems })
      const { id, name } = read.value
      if (!replace && w.store.job.profiles.some((p) => p.id === id))
        return refuse(`The job has a profile ${id} (${name}) already. Replace it, or give the file another id.`, 'id')
      const kept = keepProfile(w, live, read.value)
      return kept.ok ? ok({ profileId: id, path: kept.value }) : kept
    },
  }
}

/**
 * Puts a profile into the job, for its indicators to use at once, and as a file into the job's folder of profiles; gives the path.
 * Refused where the change would touch a write that is under way, or a point's channel that the profile does not have.
 */
export function keepProfile(w: World, live: LiveLoop, profile: Profile): Result<string, ReturnType<typeof refuse>['failure']> {
  if (bundledProfiles.has(profile.id)) return refuse(`${profile.id} is the id of a bundled profile; give yours another.`, 'id')
  const users = w.store.job.indicators.filter((i) => i.profileId === profile.id)
  for (const indicator of users) {
    const view = w.sessions.get(indicator.id)?.view()
    if (view?.writing || view?.openWrite)
      return refuse(`A write to ${indicator.name}, which uses this profile, has not ended. Wait, or resolve it first.`)
    const crowded = pointsOn(w, indicator.id).find((p) => p.channel > profile.channels)
    if (crowded) return refuse(`${crowded.tag} measures channel ${crowded.channel}, which this profile does not have.`, 'channels')
  }
  const written = writeProfile(w.store.path, profile)
  if (!written.ok) return refuse(`Not saved: ${written.failure}`)
  const saved = saveJob(w, (job) => ({ ...job, profiles: [...job.profiles.filter((p) => p.id !== profile.id), profile] }))
  if (!saved.ok) return refuse(saved.failure.why, saved.failure.where)
  w.profiles.set(profile.id, profile)
  // What was identified and read by other rules says nothing now: the sessions begin anew.
  for (const indicator of users) addSession(w, indicator)
  if (users.length > 0) live.want(live.wanted())
  return ok(written.value)
}
