import type { LiveSample } from '../contract/views.ts'
import type { Point, SettingsImage } from '../job/schema.ts'
import { type Profile, registerKey } from '../profile/schema.ts'
import { type Exact, zero } from '../quantity/exact.ts'
import { excitationNow } from './expected-chain.ts'
import { channelRegister } from './reading-settings.ts'
import { quantityStated } from './stated-quantity.ts'

/** What the input takes: `size` on the positive side; below nought only where the profile writes the range with a plus-minus sign. */
export type InputLimits = { size: Exact; bothSides: boolean; means: string; origin: 'held' | 'intended' | 'only one' }

/** The limits of a point's input by the range that is held, or by the one intended, each where the other is not known; else why there are none. */
export function inputLimits(
  point: Point,
  profile: Profile | undefined,
  held: SettingsImage | null,
  by: 'held' | 'intended',
): { unit: 'mV/V' | 'mV'; limits: InputLimits } | string {
  if (!profile) return 'This point has no indicator, so there is no input range.'
  const r = channelRegister(profile, 'input.range', point.channel)
  if (!r?.options) return 'The profile states no input ranges; nothing is drawn for what is not known. Look at the indicator’s manual.'
  const key = registerKey(r)
  const [first, ...more] = r.options
  const [now, intended] = [
    { means: held?.values[key]?.value, origin: 'held' as const },
    { means: point.intended[key], origin: 'intended' as const },
  ]
  const found = [
    ...(by === 'held' ? [now, intended] : [intended, now]),
    { means: more.length === 0 ? first?.means : undefined, origin: 'only one' as const },
  ].find((f) => f.means)
  if (!found?.means) return 'The input range has not been read yet.'
  const { means, origin } = found
  const bothSides = means.includes('±')
  const ratio = quantityStated(means, 'mV/V')
  if (ratio?.gt(zero)) return { unit: 'mV/V', limits: { size: ratio, bothSides, means, origin } }
  const millivolts = quantityStated(means, 'mV')
  if (millivolts?.gt(zero)) return { unit: 'mV', limits: { size: millivolts, bothSides, means, origin } }
  return `The input range is "${means}", which states no mV or mV/V.`
}

/** Share of the range from which a signal that the indicator says is out of range is held back by the input (no source). */
const saidToBeOut = 0.998

/**
 * Whether a measured signal is held back by the input itself, so that nothing can be derived of it: at the end of the range that the indicator
 * holds, or close to it where the indicator says that it is out of range.
 */
export function atInputLimit(point: Point, profile: Profile | undefined, held: SettingsImage | null, sample: LiveSample): boolean {
  if (sample.signal === null || sample.signalOrigin !== 'measured') return false
  const found = inputLimits(point, profile, held, 'held')
  if (typeof found === 'string' || found.limits.origin === 'intended') return false
  const volts = excitationNow(point, profile, held)?.volts.valueOf()
  const asRange = found.unit === sample.signalUnit ? 1 : volts && (found.unit === 'mV' ? volts : 1 / volts)
  if (asRange === undefined) return false
  const part = (Math.abs(Number(sample.signal)) * asRange) / found.limits.size.valueOf()
  const out = sample.status.includes('over-range') || sample.status.includes('under-range')
  return part >= (out ? saidToBeOut : 1)
}
