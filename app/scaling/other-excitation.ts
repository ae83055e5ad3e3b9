import type { Intended, Point, SettingsImage } from '../job/schema.ts'
import { type Profile, registerKey } from '../profile/schema.ts'
import { quantityIn } from '../quantity/convert.ts'
import { type Exact, exact, zero } from '../quantity/exact.ts'
import { nominalExcitation } from './expected-chain.ts'
import { channelRegister } from './reading-settings.ts'
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

/**
 * Whether the excitation that signals in mV are reckoned with can be the one that is held, and that which is intended.
 * Signals under known loads that were kept with their own excitation need none of this. Limits: of zero and shunt the job keeps no
 * excitation of their own: once it is measured anew, older ones go unnoticed.
 */
export function otherExcitation(point: Point, profile: Profile, held: SettingsImage, intended: Intended): OtherExcitation | undefined {
  const { excitation, loads = [], zeroSignal, shunt } = point.measured
  const volts = excitation && quantityIn(excitation, 'V')
  if (!volts?.ok || !volts.value.gt(zero)) return undefined
  const measured = volts.value
  const kept = {
    loads: loads.filter((l) => l.signal.unit === 'mV' && !l.excitation).length,
    zero: zeroSignal?.unit === 'mV',
    shunt: shunt?.measured.unit === 'mV',
  }
  const any = kept.loads > 0 || kept.zero || kept.shunt
  const contradicts = (nominal: Exact) => nominal.sub(measured).abs().gt(nominal.mul(leadsAtMost))
  const told = (nominal: Exact, origin: 'held' | 'intended') => ({ kept, measured, nominal, origin, times: nominal.div(measured) })

  const now = nominalExcitation(point, profile, held)?.volts
  if (now && contradicts(now) && (any || profile.input?.signalUnit === 'mV')) return told(now, 'held')
  const register = channelRegister(profile, 'excitation.voltage', point.channel)
  const wanted = register && intended[registerKey(register)]
  const then = register && wanted !== undefined ? excitationStated(register, wanted) : undefined
  // what it makes of the scaling alone is judged with the scaling
  return then && contradicts(then) && any ? told(then, 'intended') : undefined
}
