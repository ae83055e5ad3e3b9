import type { Job } from '../../app/job/schema.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'

/** The job's own profile of this id before a bundled one. */
export const profileOf = (job: Job, profileId: string): Profile | undefined =>
  job.profiles.find((p) => p.id === profileId) ?? bundledProfiles.get(profileId)

/** Channels of an indicator; one where nobody has described its model. */
export const channelsOf = (job: Job, indicatorId: string): number => {
  const indicator = job.indicators.find((i) => i.id === indicatorId)
  return (indicator && profileOf(job, indicator.profileId)?.channels) ?? 1
}
