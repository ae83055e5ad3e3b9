import type { Job } from '../../app/job/schema.ts'
import { type Profile, profile as profileSchema } from '../../app/profile/schema.ts'

const files = import.meta.glob<unknown>('../../app/profiles/*.profile.json', { eager: true, import: 'default' })

const bundled = new Map(
  Object.values(files).flatMap((file) => {
    const parsed = profileSchema.safeParse(file)
    return parsed.success ? [[parsed.data.id, parsed.data] as const] : []
  }),
)

/** The job's own profile of this id before a bundled one. */
export const profileOf = (job: Job, profileId: string): Profile | undefined => job.profiles.find((p) => p.id === profileId) ?? bundled.get(profileId)
