import type { SettingsImage } from '../job/schema.ts'
import type { Profile } from '../profile/schema.ts'
import { convert } from '../quantity/convert.ts'
import { exact, toDecimal } from '../quantity/exact.ts'
import { alongPairs } from './held-pairs.ts'
import { heldReader } from './scaling-model.ts'
import { scalingModels } from './scaling-models.ts'

const decimals = 5

/**
 * Signal computed back from a gross reading through the scaling values that an indicator holds, in the unit of its input: never a
 * measured value, since it is blind to an error in those very values. Null where model, values or units do not allow it.
 */
export function derivedSignal(profile: Profile, channel: number, held: SettingsImage | null, reading: string | null): string | null {
  if (!held || reading === null || !/^-?\d+(\.\d+)?$/.test(reading)) return null
  const span = scalingModels[profile.scaling.model].heldSpan?.(heldReader(channel, profile, held))
  if (!span?.ok || !span.value.through) return null
  const signal = alongPairs(span.value.through, 'reading', exact(reading))
  const shown = signal && convert(signal, span.value.signalUnit, profile.input?.signalUnit ?? 'mV/V')
  return shown?.ok ? toDecimal(shown.value, decimals) : null
}
