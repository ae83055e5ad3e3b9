import type { Point, SettingsImage } from '../job/schema.ts'
import { pointShare } from '../loadpath/point-share.ts'
import { type Profile, registerKey } from '../profile/schema.ts'
import { quantityIn } from '../quantity/convert.ts'
import { type Exact, zero } from '../quantity/exact.ts'
import { ok, type Result } from '../result.ts'
import { lineFromCertificates } from './certificate-scaling.ts'
import { signalOnCurve } from './curve.ts'
import { readingByHeld } from './held-reading.ts'
import { channelRegister } from './reading-settings.ts'
import type { ScalingFailure } from './scaling-failure.ts'
import { lineFromTables } from './sources/certificate-table.ts'
import { excitationOf, measuredSignal } from './sources/measured-loads.ts'
import { excitationStated, quantityStated } from './stated-quantity.ts'

/** The excitation that a signal in mV goes by, V: measured at the point, else what the indicator holds, else its only one. */
export type ExcitationNow = { volts: Exact; from: 'measured' | 'held' | 'only one' }

export function excitationNow(point: Point, profile: Profile | undefined, held: SettingsImage | null): ExcitationNow | undefined {
  const measured = point.measured.excitation && quantityIn(point.measured.excitation, 'V')
  if (measured?.ok && measured.value.gt(zero)) return { volts: measured.value, from: 'measured' }
  return nominalExcitation(point, profile, held)
}

/** The same without what was measured: the nominal excitation. */
export function nominalExcitation(
  point: Pick<Point, 'channel'>,
  profile: Profile | undefined,
  held: SettingsImage | null,
): ExcitationNow | undefined {
  const register = profile && channelRegister(profile, 'excitation.voltage', point.channel)
  const text = register && held?.values[registerKey(register)]?.value
  const volts = register && text ? excitationStated(register, text) : undefined
  if (volts) return { volts, from: 'held' }
  const [only, ...others] = register?.options ?? []
  const sole = only && others.length === 0 ? quantityStated(only.means, 'V') : undefined
  return sole ? { volts: sole, from: 'only one' } : undefined
}

/** What every place along the chain is to show under a load. Loads in the point's unit, signals in mV/V. */
export type ExpectedChain = {
  load: Exact
  /** Load and dead load, by the share of the load path: what all sensors together carry. */
  onSensors: Exact
  /** Of all sensors together, before the leads. */
  sensorSignal: Exact
  /** Where the leads end, at the indicator's terminals. */
  inputSignal: Exact
  /** The same in mV, where the excitation is known. */
  millivolts?: Exact
  excitation?: ExcitationNow
  zeroFrom: 'certificate' | 'measured'
  /** What the held scaling values make of `inputSignal`: undefined where nothing is held or the model does not allow it. */
  heldReading?: Exact
}

/**
 * Expected values from a known load, by certificates (their table where scaling goes by it), load path and leads; the zero as measured where it was.
 * Not by measured loads or a shunt even where those are scaled by: an expectation made of the measurement would agree with it.
 */
export function expectedChain(
  point: Point,
  profile: Profile | undefined,
  held: SettingsImage | null,
  load: Exact,
): Result<ExpectedChain, ScalingFailure> {
  const scaling = point.scalingFrom === 'certificate-table' ? lineFromTables(point) : lineFromCertificates(point)
  if (!scaling.ok) return scaling
  const { line, curve } = scaling.value
  const excitation = excitationNow(point, profile, held)
  const atZero = curve ? signalOnCurve(curve, zero) : line.zeroSignal
  const atLoad = curve ? signalOnCurve(curve, load) : line.zeroSignal.add(line.slope.mul(load))
  const zeroSignal = measuredZero(point, excitation)
  const inputSignal = zeroSignal ? zeroSignal.add(atLoad.sub(atZero)) : atLoad
  const reading = profile && held ? readingByHeld(point, profile, held, inputSignal, excitation?.volts) : undefined
  return ok({
    load,
    onSensors: load.add(line.deadLoad).mul(pointShare(point.loadPath)),
    sensorSignal: inputSignal.div(line.leadsLeave),
    inputSignal,
    ...(excitation ? { excitation, millivolts: inputSignal.mul(excitation.volts) } : {}),
    zeroFrom: zeroSignal ? 'measured' : 'certificate',
    ...(reading?.ok ? { heldReading: reading.value } : {}),
  })
}

/** Zero signal as measured at the point, mV/V; one in mV by the excitation it was taken at, else by the one now. Undefined where none was measured. */
export function measuredZero(point: Point, excitation: ExcitationNow | undefined): Exact | undefined {
  const { zeroSignal, zeroExcitation } = point.measured
  const ratio = zeroSignal && measuredSignal(zeroSignal, excitationOf(zeroExcitation, excitation?.volts), 'measured zero')
  return ratio?.ok ? ratio.value : undefined
}
