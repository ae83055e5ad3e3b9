import type { SettingsImage } from '../job/schema.ts'
import type { Profile } from '../profile/schema.ts'

/**
 * Signal computed back from a gross reading through the scaling values that an indicator holds: never a measured value,
 * since it is blind to an error in those very values. Null where the model or the values do not allow it.
 */
export function derivedSignal(profile: Profile, channel: number, held: SettingsImage | null, reading: string | null): string | null {
  if (profile.scaling.model !== 'two-pairs' || reading === null) return null
  const value = (name: string) => {
    const text = held?.values[`${name}@${channel}`]?.value
    return text === null || text === undefined ? Number.NaN : Number(text)
  }
  const [s1, r1, s2, r2] = [
    value('scale.lower.signal'),
    value('scale.lower.reading'),
    value('scale.upper.signal'),
    value('scale.upper.reading'),
  ]
  const signal = s1 + ((Number(reading) - r1) * (s2 - s1)) / (r2 - r1)
  return Number.isFinite(signal) ? signal.toFixed(5) : null
}
