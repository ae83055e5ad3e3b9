import type { Point, SettingsImage } from '../job/schema.ts'
import { type Profile, type Register, registerKey } from '../profile/schema.ts'
import { convertDifference, dimensionOf } from '../quantity/convert.ts'
import { type Exact, exact, one } from '../quantity/exact.ts'
import { type UnitId, unitIds } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import type { CurvePoint, ExactLine } from './certificate-scaling.ts'
import type { ImpliedFailure } from './implied-failure.ts'
import { channelRegister, type ReadingSettings } from './reading-settings.ts'
import { accepted, type Digits, digitsOf, type Held, nearestHeld } from './register-digits.ts'
import type { ScalingFailure } from './scaling-failure.ts'
import type { TwoPairs } from './scaling-values.ts'

/** What a model has to fit into an indicator. */
export type FitContext = {
  line: ExactLine
  /** Where the source knows more than a line: signal over load, rising. */
  curve?: readonly CurvePoint[]
  point: Point
  profile: Profile
  reading: ReadingSettings
  /** Measured at the sensor, V; only for inputs in mV. */
  excitation: Exact | undefined
  /** Input range in force once the values are written, as its option says it ("2 mV/V"). */
  inputRange: string | undefined
}

/** One load to put on and command; nothing is written. */
export type CaptureStep = {
  command: 'capture-lower' | 'capture-upper'
  apply: string
  unit: UnitId
  expectSignal: string
  signalUnit: UnitId
}

export type Fitted = {
  chosen: TwoPairs
  alternatives: TwoPairs[]
  captures?: CaptureStep[]
}

export type HeldPair = { signal: Exact; reading: Exact }

/** A difference of signals held, the difference of readings that stands for it, and the pairs that are held, where the model says where its line lies. */
export type HeldSpan = {
  signal: Exact
  signalUnit: UnitId
  reading: Exact
  readingRegister: Register | undefined
  through?: HeldPair[]
}

/** One scaling model: one file. */
export type ScalingModel = {
  fit(context: FitContext): Result<Fitted, ScalingFailure>
  /** From what an indicator holds; a model without it keeps nothing that can be read. */
  heldSpan?(held: HeldReader): Result<HeldSpan, ImpliedFailure>
}

export type HeldReader = {
  profile: Profile
  register(name: string): Register | undefined
  text(name: string): string | undefined
  number(name: string): Result<Exact, ImpliedFailure>
}

export function heldReader(channel: number, profile: Profile, image: SettingsImage): HeldReader {
  const register = (name: string) => channelRegister(profile, name, channel)
  const text = (name: string) => {
    const r = register(name)
    return (r && image.values[registerKey(r)]?.value) ?? undefined
  }
  const number = (name: string): Result<Exact, ImpliedFailure> => {
    const held = text(name)
    return held !== undefined && /^-?\d+(\.\d+)?$/.test(held) ? ok(exact(held)) : fail({ kind: 'not-read', register: name })
  }
  return { profile, register, text, number }
}

/** A register with the digits that it will have once the values are written. */
export type Slot = { r: Register; key: string; digits: Digits }

export function slotOf(c: FitContext, name: string): Result<Slot, ScalingFailure> {
  const r = channelRegister(c.profile, name, c.point.channel)
  if (!r) return fail({ kind: 'register-missing', register: name })
  const decimals = typeof r.decimals === 'object' ? heldDecimals(c, r.decimals.register) : (r.decimals ?? 0)
  const digits = digitsOf(r, decimals)
  return digits ? ok({ r, key: registerKey(r), digits }) : fail({ kind: 'decimals-unknown', register: registerKey(r) })
}

function heldDecimals(c: FitContext, name: string): number | undefined {
  const holder = channelRegister(c.profile, name, c.point.channel)
  const key = holder && registerKey(holder)
  const text = key === undefined ? undefined : (c.reading.values[key] ?? c.point.intended[key])
  return text !== undefined && /^\d$/.test(text) ? Number(text) : undefined
}

/** Nearest value that a register holds, where the indicator takes it. */
export const hold = (slot: Slot, wanted: Exact): Result<Held, ScalingFailure> =>
  accepted(slot.r, slot.key, nearestHeld(slot.digits, wanted), slot.digits)

export const signalUnitOf = (profile: Profile, r: Register | undefined): UnitId =>
  unitIds.find((id) => id === r?.unit) ?? profile.input?.signalUnit ?? 'mV/V'

/** Signal units of the indicator in one mV/V of the sensors. */
export function perMillivoltPerVolt(c: FitContext, unit: UnitId): Result<Exact, ScalingFailure> {
  const isVoltage = dimensionOf(unit) === 'voltage'
  if (isVoltage && !c.excitation) return fail({ kind: 'excitation-not-measured' })
  const factor = convertDifference(isVoltage && c.excitation ? c.excitation : one, isVoltage ? 'mV' : 'mV/V', unit)
  return factor.ok ? factor : fail({ kind: 'wrong-unit', what: 'signal of the indicator', unit, right: 'mV/V or mV' })
}

/** The exact line in the indicator's own units. */
export type OwnUnits = { signalUnit: UnitId; perPointUnit: Exact; zeroSignal: Exact; slope: Exact; maximum: Exact }

export function inOwnUnits(c: FitContext, perSignal: Exact, signalUnit: UnitId): Result<OwnUnits, ScalingFailure> {
  const { line, reading } = c
  const per = convertDifference(one, line.unit, reading.unit)
  if (!per.ok) return fail({ kind: 'unit-of-another-kind', what: 'reading of the indicator', unit: reading.unit, pointUnit: line.unit })
  return ok({
    signalUnit,
    perPointUnit: per.value,
    zeroSignal: line.zeroSignal.mul(perSignal),
    slope: line.slope.mul(perSignal).div(per.value),
    maximum: line.maximumLoad.mul(per.value),
  })
}
