import type { SettingsImage } from '../../app/job/schema.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { encodeIntended, interpret } from '../../app/profile/settings.ts'

const nothing: SettingsImage = { at: '2026-01-01T00:00:00Z', values: {} }

/** Words of these settings in an indicator of the profile, which must be able to hold them. */
export function encodeSettings(profile: Profile, values: Record<string, string>): Map<string, number[]> {
  const words = encodeIntended(profile, values, nothing)
  if (!words.ok) throw new Error(words.failure.why)
  return words.value
}

/** Settings as they would be read, words and all. */
export const heldImage = (profile: Profile, values: Record<string, string>): SettingsImage => ({
  ...nothing,
  values: interpret(profile, encodeSettings(profile, values)),
})
