import type { Point } from '../job/schema.ts'
import { panelOf, withPanel } from '../profile/panel.ts'
import { type Profile, registerKey } from '../profile/schema.ts'
import { quantityIn } from '../quantity/convert.ts'
import { type Exact, zero } from '../quantity/exact.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import { fail, ok, type Result } from '../result.ts'
import type { ExactLine } from './certificate-scaling.ts'
import { type EntryLine, entryLines } from './entry-lines.ts'
import { chooseExcitation } from './excitation.ts'
import { chooseInputRange, type InputChoice } from './input-range.ts'
import { channelRegister, readingSettings } from './reading-settings.ts'
import type { ScalingFailure, ScalingWarning } from './scaling-failure.ts'
import type { CaptureStep } from './scaling-model.ts'
import { scalingModels } from './scaling-models.ts'
import type { TwoPairs } from './scaling-values.ts'
import { lineSources } from './sources/line-sources.ts'
import { excitationOf, measuredSignal } from './sources/measured-loads.ts'

export type ScalingProposal = {
  line: ExactLine
  /** By how much each measured signal lies above the line, mV/V; only where loads were measured. */
  residuals?: Exact[]
  /** certificate: expected from zero balance and dead load; measured: read at the unloaded point. */
  zeroFrom: 'certificate' | 'measured'
  /** Values by register key, as text in the register's unit or an option's meaning. */
  intended: Record<string, string>
  pairs: TwoPairs
  /** Pairs on the same line that round better, best first. */
  alternatives: TwoPairs[]
  /** Loads to put on and command, where the indicator captures them itself. */
  captures?: CaptureStep[]
  /** What to type at the front panel, where the indicator takes it in no other way; digits are unknown where the profile does not state its menu. */
  entries?: { list: EntryLine[]; digitsKnown: boolean }
  input: Omit<InputChoice, 'values' | 'warnings'>
  excitationWhy: string
  warnings: ScalingWarning[]
}

/** What was measured at the point and takes the place of what certificates let expect. */
export type Measured = {
  /** Signal of the unloaded point, mV/V; one in mV with the excitation it was taken at, else by the one beside it. */
  zeroSignal?: QuantityText
  zeroExcitation?: QuantityText
  /** Excitation at the sensor; needed for inputs in mV. */
  excitation?: QuantityText
}

export const measuredAt = ({ measured: { zeroSignal, zeroExcitation, excitation } }: Point): Measured => ({
  ...(zeroSignal ? { zeroSignal } : {}),
  ...(zeroExcitation ? { zeroExcitation } : {}),
  ...(excitation ? { excitation } : {}),
})

/** From a point's certificates and load path to the values its indicator is to hold, with what rounding costs. Pure: host and screen come to the same. */
export function proposeScaling(point: Point, described: Profile, measured: Measured = {}): Result<ScalingProposal, ScalingFailure> {
  const panel = panelOf(described, point.channel, point.scaleInterval.split('.')[1]?.length ?? 0)
  const profile = withPanel(described, panel)
  const excitation = measured.excitation ? excitationIn(measured.excitation) : ok(undefined)
  if (!excitation.ok) return excitation
  const scaling = lineSources[point.scalingFrom ?? 'certificate'](point, excitation.value)
  if (!scaling.ok) return scaling
  const { zeroSignal } = measured
  const line = zeroSignal
    ? withZero(scaling.value.line, zeroSignal, excitationOf(measured.zeroExcitation, excitation.value))
    : ok(scaling.value.line)
  if (!line.ok) return line
  const supply = chooseExcitation(point, profile)
  const input = chooseInputRange(line.value, point, profile, excitation.value ?? supply.volts)
  if (!input.ok) return input
  const reading = readingSettings(point, profile)
  if (!reading.ok) return reading
  const { values, warnings, ...inputChoice } = input.value
  const inputRange = inputRangeInForce(point, profile, values)
  const fitted = scalingModels[profile.scaling.model].fit({
    line: line.value,
    ...(scaling.value.curve ? { curve: scaling.value.curve } : {}),
    point,
    profile,
    reading: reading.value,
    excitation: excitation.value,
    inputRange,
  })
  if (!fitted.ok) return fitted
  const { chosen, alternatives, captures } = fitted.value
  const all = { ...values, ...supply.values, ...reading.value.values, ...chosen.values }
  const onBus = (given: Record<string, string>) => written(described, given)
  const withoutPanel = (pairs: TwoPairs): TwoPairs => ({ ...pairs, values: onBus(pairs.values) })
  const superseded = measured.zeroSignal ? ['zero-balance-not-stated', 'dead-load-not-stated'] : []
  return ok({
    line: line.value,
    ...(scaling.value.residuals ? { residuals: scaling.value.residuals } : {}),
    zeroFrom: measured.zeroSignal || point.scalingFrom === 'measured-loads' ? 'measured' : 'certificate',
    intended: onBus(all),
    pairs: withoutPanel(chosen),
    alternatives: alternatives.map(withoutPanel),
    ...(captures ? { captures } : {}),
    ...(panel.entries.length > 0 ? { entries: { list: entryLines(panel, all, reading.value.unit), digitsKnown: panel.digitsKnown } } : {}),
    input: inputChoice,
    excitationWhy: supply.why,
    warnings: [...scaling.value.warnings.filter((w) => !superseded.includes(w.kind)), ...supply.warnings, ...warnings],
  })
}

/** What a bus reaches; the rest is typed. */
const written = (profile: Profile, values: Record<string, string>): Record<string, string> =>
  Object.fromEntries(Object.entries(values).filter(([key]) => profile.registers.some((r) => registerKey(r) === key)))

/** The range chosen, or the one that is intended, or the only one there is. */
function inputRangeInForce(point: Point, profile: Profile, values: Record<string, string>): string | undefined {
  const r = channelRegister(profile, 'input.range', point.channel)
  if (!r) return undefined
  const key = registerKey(r)
  return values[key] ?? point.intended[key] ?? (r.options?.length === 1 ? r.options[0]?.means : undefined)
}

function excitationIn(quantity: QuantityText): Result<Exact, ScalingFailure> {
  const volts = quantityIn(quantity, 'V')
  if (!volts.ok) return fail({ kind: 'wrong-unit', what: 'measured excitation', unit: quantity.unit, right: 'V' })
  return volts.value.lte(zero) ? fail({ kind: 'not-above-nought', what: 'excitation', value: quantity.value }) : ok(volts.value)
}

function withZero(line: ExactLine, taken: QuantityText, excitation: Exact | undefined): Result<ExactLine, ScalingFailure> {
  const zeroSignal = measuredSignal(taken, excitation, 'measured zero')
  return zeroSignal.ok ? ok({ ...line, zeroSignal: zeroSignal.value }) : zeroSignal
}
