import { appliedWords } from '../applied-words.ts'
import type { LiveSample } from '../contract/views.ts'
import { isFor } from '../job/intended.ts'
import type { Point, SettingsImage } from '../job/schema.ts'
import { type Profile, registerKey } from '../profile/schema.ts'
import { toDecimal } from '../quantity/exact.ts'
import { lineFromCertificates } from './certificate-scaling.ts'
import { headroom } from './headroom.ts'
import { atInputLimit } from './input-limit.ts'
import { bearsOnScaling, imageAfter, type Written } from './scaling-afterwards.ts'
import { beyondCapacity } from './sensor-load.ts'

/**
 * Sensors and inputs that are too small for their points once these words stand in the indicator, and inputs that are at their limit now:
 * a sentence for each. Of points only whose measuring the words bear on.
 */
export function tooSmallAfterwards(
  points: readonly Point[],
  profile: Profile,
  before: SettingsImage,
  written: readonly Written[],
  now: (pointId: string) => LiveSample | undefined,
): string[] {
  const after = imageAfter(profile, before, written)
  return points
    .filter((point) => written.some(({ register }) => bearsOnScaling(register.name) && isFor(registerKey(register), point.channel)))
    .flatMap((point) => {
      const line = lineFromCertificates(point)
      const sensors = line.ok ? beyondCapacity(point, line.value.line) : undefined
      const room = headroom(point, profile, after)
      const sample = now(point.id)
      return [
        ...(sensors ? [sensors.why] : []),
        ...(room.ok && room.value.verdict === 'beyond' && room.value.limits
          ? [
              `At ${appliedWords(point).maximum} ${toDecimal(room.value.maximum, 3)} ${room.value.unit} are expected; the input saturates at ${room.value.limits.means}. Choose a larger range.`,
            ]
          : []),
        ...(sample && atInputLimit(point, profile, before, sample)
          ? ['The input is at its limit now: a lead is open, or the range too small. See to it before you go by its reading.']
          : []),
      ].map((why) => `${point.tag}: ${why}`)
    })
}
