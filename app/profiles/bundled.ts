import { readProfile } from '../profile/read-profile.ts'
import type { Profile } from '../profile/schema.ts'
import twoPairsFloat32Locked from './two-pairs-float32-locked.profile.json' with { type: 'json' }

const files: unknown[] = [twoPairsFloat32Locked]

/** The generic practice models that come with the program, by id. A bundled file that does not fit the schema is a programming mistake. */
export const bundledProfiles: ReadonlyMap<string, Profile> = new Map(
  files.map((json) => {
    const read = readProfile(json)
    if (!read.ok) throw new TypeError(read.failure.problems.map((p) => `${p.path}: ${p.message}`).join('\n'))
    return [read.value.id, read.value]
  }),
)
