import type { Intended, Point, SettingsImage } from '../job/schema.ts'
import { type Profile, registerKey } from '../profile/schema.ts'
import { dimensionOf, quantityIn } from '../quantity/convert.ts'
import { type Exact, exact, zero } from '../quantity/exact.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import { nominalExcitation } from './expected-chain.ts'
import { channelRegister } from './reading-settings.ts'
import { excitationOf } from './sources/measured-loads.ts'
import { excitationStated } from './stated-quantity.ts'

/** What is in mV and reckoned with a measured excitation that the nominal one contradicts. */
export type OtherExcitation = {
  /** How many signals under known loads are kept in mV, and whether the zero and the shunt are; none where only the scaling held is. */
  kept: { loads: number; zero: boolean; shunt: boolean }
  /** V. */
  measured: Exact
  nominal: Exact
  origin: 'held' | 'intended'
  /** The same signals are so many times as large at the nominal one. */
  times: Exact
}

/** What leads and tolerance make between nominal and measured excitation stays below this part. Common practice, no source. */
const leadsAtMost = exact('0.2')

const contradicts = (now: Exact, then: Exact) => now.sub(then).abs().gt(now.mul(leadsAtMost))
const inVolts = (signal: QuantityText | undefined) => signal !== undefined && dimensionOf(signal.unit) === 'voltage'

/**
 * Whether the excitation that signals in mV are reckoned with can be the one that is held, and that which is intended.
 * Signals that were kept with their own excitation need none of this (`takenAtOther`).
 */
export function otherExcitation(point: Point, profile: Profile, held: SettingsImage, intended: Intended): OtherExcitation | undefined {
  const { excitation, loads = [], zeroSignal, zeroExcitation, shunt } = point.measured
  const volts = excitation && quantityIn(excitation, 'V')
  if (!volts?.ok || !volts.value.gt(zero)) return undefined
  const measured = volts.value
  const kept = {
    loads: loads.filter((l) => inVolts(l.signal) && !l.excitation).length,
    zero: inVolts(zeroSignal) && !zeroExcitation,
    shunt: inVolts(shunt?.measured) && !shunt?.excitation,
  }
  const any = kept.loads > 0 || kept.zero || kept.shunt
  const told = (nominal: Exact, origin: 'held' | 'intended') => ({ kept, measured, nominal, origin, times: nominal.div(measured) })

  const now = nominalExcitation(point, profile, held)?.volts
  if (now && contradicts(now, measured) && (any || profile.input?.signalUnit === 'mV')) return told(now, 'held')
  const register = channelRegister(profile, 'excitation.voltage', point.channel)
  const wanted = register && intended[registerKey(register)]
  const then = register && wanted !== undefined ? excitationStated(register, wanted) : undefined
  // what it makes of the scaling alone is judged with the scaling
  return then && contradicts(then, measured) && any ? told(then, 'intended') : undefined
}

/** Signals in mV kept with an excitation (V) that is another now: they are carried over in proportion. */
export type TakenAtOther = { taken: { what: 'loads' | 'zero' | 'shunt'; at: Exact }[]; now: Exact }

/**
 * Signals in mV that were taken at another excitation than the one now: as measured, and as it is held where that was not measured since.
 * Limits: in proportion goes what a bridge gives; an offset of the input and a thermal voltage do not.
 */
export function takenAtOther(point: Point, profile: Profile, held: SettingsImage | null): TakenAtOther | undefined {
  const { excitation, loads = [], zeroSignal, zeroExcitation, shunt } = point.measured
  const nominal = nominalExcitation(point, profile, held)?.volts
  const measured = excitationOf(excitation, undefined)
  const now = measured && nominal && contradicts(nominal, measured) ? nominal : (measured ?? nominal)
  if (!now) return undefined
  const kept = [
    ...loads.map((l) => ({ what: 'loads' as const, signal: l.signal, at: excitationOf(l.excitation, undefined) })),
    { what: 'zero' as const, signal: zeroSignal, at: excitationOf(zeroExcitation, undefined) },
    { what: 'shunt' as const, signal: shunt?.measured, at: excitationOf(shunt?.excitation, undefined) },
  ]
  const taken = kept.flatMap(({ what, signal, at }) => (inVolts(signal) && at && contradicts(now, at) ? [{ what, at }] : []))
  return taken.length > 0 ? { taken, now } : undefined
}
