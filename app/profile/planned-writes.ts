import type { Difference } from '../contract/views.ts'
import type { Intended, SettingsImage } from '../job/schema.ts'
import { ok, type Result } from '../result.ts'
import type { CodecFailure } from './codec.ts'
import type { Profile, Register } from './schema.ts'
import { differences, encodeIntended, findRegister } from './settings.ts'

/** One setting to be written: the words, and the text that people are shown for them. */
export type Wanted = { register: Register; words: readonly number[]; value: string }

/** Registers with the words that these differences put into them; one without words is left out. */
export const wantedFrom = (p: Profile, list: readonly Difference[], words: ReadonlyMap<string, readonly number[]>): Wanted[] =>
  list.flatMap((d) => {
    const [register, encoded] = [findRegister(p, d.key), words.get(d.key)]
    return register && encoded ? [{ register, words: encoded, value: d.intended }] : []
  })

/** What a write of these intended values would change, as people are shown it and as it goes to the indicator. */
export function plannedWrites(
  p: Profile,
  held: SettingsImage,
  intended: Intended,
): Result<{ differs: Difference[]; wanted: Wanted[] }, CodecFailure & { key: string }> {
  const differs = differences(p, held, intended)
  if (!differs.ok) return differs
  const words = encodeIntended(p, intended, held)
  if (!words.ok) return words
  return ok({ differs: differs.value, wanted: wantedFrom(p, differs.value, words.value) })
}
