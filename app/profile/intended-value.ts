import type { Intended, SettingsImage } from '../job/schema.ts'
import { type Profile, registerKey } from './schema.ts'
import { settingWords } from './setting-words.ts'
import { encodeIntended, findRegister, siblingKey } from './settings.ts'

const nothingHeld: SettingsImage = { at: '', values: {} }

/**
 * Why an indicator of this profile can never hold one of the intended values: no such setting, read only, no number, beyond the width
 * or the limits of its register. Null where it can, or where that hangs on decimals which are neither intended nor read yet.
 */
export function whyNotIntended(profile: Profile, key: string, values: Intended, held: SettingsImage | null): string | null {
  const register = findRegister(profile, key)
  const value = values[key]
  if (register?.role !== 'setting' || value === undefined) return `${profile.name} has no setting ${settingWords(key, profile.channels)}.`
  const words = settingWords(registerKey(register), profile.channels)
  if (register.access !== 'read-write') return `${words} can only be read.`
  const holder = typeof register.decimals === 'object' ? siblingKey(profile, register, register.decimals.register) : undefined
  const decimals = holder === undefined ? undefined : values[holder]
  const encoded = encodeIntended(
    profile,
    { [key]: value, ...(holder && decimals !== undefined ? { [holder]: decimals } : {}) },
    held ?? nothingHeld,
  )
  if (encoded.ok || encoded.failure.key !== key || encoded.failure.kind === 'decimals-unknown') return null
  return `${encoded.failure.why}.`
}
