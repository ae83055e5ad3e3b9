import { isFor } from '../job/intended.ts'
import type { Intended, Point, SettingsImage } from '../job/schema.ts'
import { plannedWrites } from '../profile/planned-writes.ts'
import { isScaling } from '../profile/scaling-registers.ts'
import { type Profile, type Register, registerKey } from '../profile/schema.ts'
import { interpret, keepsValue } from '../profile/settings.ts'
import { sameKind } from '../quantity/convert.ts'
import { exact, exactDecimal, toSignificant, zero } from '../quantity/exact.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import { type UnitId, units } from '../quantity/units.ts'
import { nominalExcitation } from './expected-chain.ts'
import { explainImpliedFailure, type Implied, type ImpliedFailure, impliedByHeld, isOff } from './implied.ts'
import { channelRegister, unitMeant } from './reading-settings.ts'

export type Written = { register: Register; words: readonly number[] }

/** How a scaling does not fit its certificates once settings stand as they are to be. */
export type OffAfterwards =
  | {
      kind: 'off'
      implied: Implied
      /** Where another nominal excitation is among the settings: the one measured until now, and what it comes to in proportion. */
      excitation?: { measured: QuantityText; becomes: QuantityText }
    }
  | { kind: 'unit-of-another-kind'; failure: Extract<ImpliedFailure, { kind: 'unit-of-another-kind' }> }

/** Whether a setting, by name or key, decides what the scaling values make of a sensor's signal. */
export const bearsOnScaling = (key: string): boolean => isScaling(key) || /^(input\.|excitation\.|reading\.(unit|decimals)(@|$))/.test(key)

/**
 * How the scaling of a point contradicts its certificates once these words stand in the indicator; undefined where it fits, or where they do
 * not bear on it. Scaling values that were right for one input range or unit are wrong for another, whether or not they are written themselves.
 */
export function scalingAfterwards(
  point: Point,
  profile: Profile,
  before: SettingsImage,
  written: readonly Written[],
): OffAfterwards | undefined {
  if (!written.some(({ register }) => bearsOnScaling(register.name) && isFor(registerKey(register), point.channel))) return undefined
  const after = imageAfter(profile, before, written)
  const shown = unitOfAnotherKind(point, profile, after)
  if (shown) return { kind: 'unit-of-another-kind', failure: { kind: 'unit-of-another-kind', unit: shown, pointUnit: point.unit } }
  const excitation = excitationAfter(point, profile, before, after)
  const then = excitation ? { ...point, measured: { ...point.measured, excitation: excitation.becomes } } : point
  const implied = impliedByHeld(then, profile, after)
  if (implied.ok)
    return isOff(implied.value, point) ? { kind: 'off', implied: implied.value, ...(excitation ? { excitation } : {}) } : undefined
  return implied.failure.kind === 'unit-of-another-kind' ? { kind: 'unit-of-another-kind', failure: implied.failure } : undefined
}

/** The unit that an indicator shows, where nothing leads from it to that of the point: known without a certificate. */
function unitOfAnotherKind(point: Point, profile: Profile, image: SettingsImage): UnitId | undefined {
  const chooser = channelRegister(profile, 'reading.unit', point.channel)
  const unit = chooser && unitMeant(image.values[registerKey(chooser)]?.value ?? '')
  return unit && !sameKind(unit, point.unit) ? unit : undefined
}

/** The same of what is only intended for an indicator; undefined too where it could not be written at all. */
export function scalingAsIntended(point: Point, profile: Profile, held: SettingsImage, intended: Intended): OffAfterwards | undefined {
  const plan = plannedWrites(profile, held, intended)
  return plan.ok ? scalingAfterwards(point, profile, held, plan.value.wanted) : undefined
}

/** Points whose scaling would contradict their certificates once these words stand in the indicator: a sentence for each. */
export const scalingOffAfterwards = (
  points: readonly Point[],
  profile: Profile,
  before: SettingsImage,
  written: readonly Written[],
): string[] =>
  points.flatMap((point) => {
    const off = scalingAfterwards(point, profile, before, written)
    return off ? [`${point.tag}: ${explainOffAfterwards(off)}`] : []
  })

function explainOffAfterwards(off: OffAfterwards): string {
  if (off.kind === 'unit-of-another-kind') return explainImpliedFailure(off.failure)
  const implies = `as it would be written, the scaling implies ${off.implied.summary}.`
  if (!off.excitation) return `${implies} Work it out for this input range, excitation and unit.`
  const { measured, becomes } = off.excitation
  return `${implies} The ${measured.value} ${units[measured.unit].symbol} of excitation measured are taken as ${becomes.value} ${units[becomes.unit].symbol}, in proportion: write the excitation, measure it again, then work the scaling out.`
}

/** What an indicator holds once these words stand in it. */
export function imageAfter(profile: Profile, before: SettingsImage, written: readonly Written[]): SettingsImage {
  const words = new Map([
    ...Object.entries(before.values).map(([key, held]) => [key, held.words] as const),
    ...written.map((w) => [registerKey(w.register), w.words] as const),
  ])
  const itself = new Set(written.map((w) => registerKey(w.register)))
  const kept = profile.registers.flatMap((r) => {
    const [key, was] = [registerKey(r), before.values[registerKey(r)]]
    return was && !itself.has(key) && keepsValue(profile, r) ? [[key, was] as const] : []
  })
  return { at: before.at, values: { ...interpret(profile, words), ...Object.fromEntries(kept) } }
}

/** An excitation that was measured holds for the nominal one it was measured at; with another it goes in proportion. */
function excitationAfter(point: Point, profile: Profile, before: SettingsImage, after: SettingsImage) {
  const { excitation: measured } = point.measured
  const [was, is] = [before, after].map((image) => nominalExcitation(point, profile, image)?.volts)
  if (!measured || !is || !was?.gt(zero) || was.equals(is)) return undefined
  const value = exact(measured.value).mul(is).div(was)
  return { measured, becomes: { value: exactDecimal(value) ?? toSignificant(value, 6), unit: measured.unit } }
}
