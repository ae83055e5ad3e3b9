import { isFor } from '../job/intended.ts'
import type { Point, SettingsImage } from '../job/schema.ts'
import { isScaling } from '../profile/scaling-registers.ts'
import { type Profile, type Register, registerKey } from '../profile/schema.ts'
import { interpret } from '../profile/settings.ts'
import { explainImpliedFailure, impliedByHeld, isOff } from './implied.ts'

export type Written = { register: Register; words: readonly number[] }

/** Settings that decide what the scaling values make of a sensor's signal. */
const bearsOnScaling = (name: string) =>
  isScaling(name) || name === 'reading.unit' || name === 'reading.decimals' || name.startsWith('input.') || name.startsWith('excitation.')

/**
 * Points whose scaling would contradict their certificates once these words stand in the indicator: a sentence for each. Scaling values
 * that were right for one input range or unit are wrong for another, whether or not they are written themselves.
 */
export function scalingOffAfterwards(
  points: readonly Point[],
  profile: Profile,
  before: SettingsImage,
  written: readonly Written[],
): string[] {
  const bearing = written.filter(({ register }) => bearsOnScaling(register.name)).map(({ register }) => registerKey(register))
  const words = new Map([
    ...Object.entries(before.values).map(([key, held]) => [key, held.words] as const),
    ...written.map((w) => [registerKey(w.register), w.words] as const),
  ])
  const after = { at: before.at, values: interpret(profile, words) }
  return points.flatMap((point) => {
    if (!bearing.some((key) => isFor(key, point.channel))) return []
    const implied = impliedByHeld(point, profile, after)
    if (!implied.ok)
      return implied.failure.kind === 'unit-of-another-kind' ? [`${point.tag}: ${explainImpliedFailure(implied.failure)}`] : []
    return isOff(implied.value, point)
      ? [
          `${point.tag}: as it would be written, the scaling implies ${implied.value.summary}. Work it out for this input range, excitation and unit.`,
        ]
      : []
  })
}
