import type { Profile } from '../../app/profile/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { readProfileFile } from './read-profile-file.ts'

/** A bundled profile by its id, or the one in a file; fails with a sentence that names what there is. */
export function profileBy(name: string): Result<Profile, string> {
  const bundled = bundledProfiles.get(name)
  if (bundled) return ok(bundled)
  const read = readProfileFile(name)
  if (read.ok) return read
  const [first] = read.failure.problems
  return fail(
    `${name} is no bundled profile (${[...bundledProfiles.keys()].join(', ')}), and as a file: ${first?.path === '(file)' ? '' : `${first?.path} `}${first?.message}`,
  )
}
