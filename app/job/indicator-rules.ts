import type { Profile } from '../profile/schema.ts'
import type { Bus, Indicator, Job } from './schema.ts'

export type IndicatorClash = { where: 'busId' | 'profileId' | 'unit'; why: string }

export const isModbusTcp = ({ link }: Bus): boolean =>
  link.kind === 'modbus-tcp' || (link.kind === 'practice' && link.framing === 'modbus-tcp')

/** Why a unit of this address cannot answer on a bus; null where it can. 0 is for all at once, and nobody answers to that (Modbus over serial line V1.02, 2.2). */
export const whyNoUnit = (unit: number, bus: Bus): string | null =>
  !isModbusTcp(bus) && (unit < 1 || unit > 247) ? 'A unit on a serial line has an address from 1 to 247.' : null

/** Why an indicator cannot stand in a job beside the others; null where it can. It has a bus of the job, and its address to itself. */
export function indicatorClash(indicator: Indicator, { buses, indicators }: Pick<Job, 'buses' | 'indicators'>): IndicatorClash | null {
  const bus = buses.find((b) => b.id === indicator.busId)
  if (!bus) return { where: 'busId', why: `There is no bus ${indicator.busId} in this job.` }
  const wrong = whyNoUnit(indicator.unit, bus)
  if (wrong) return { where: 'unit', why: wrong }
  const twin = indicators.find((i) => i.id !== indicator.id && i.busId === indicator.busId && i.unit === indicator.unit)
  return twin ? { where: 'unit', why: `${twin.name} has address ${indicator.unit} on this bus already.` } : null
}

/** Why an indicator cannot be of this profile; null where it can. */
export const profileUnknown = (profileId: string, profiles: ReadonlyMap<string, Profile>): IndicatorClash | null =>
  profiles.has(profileId) ? null : { where: 'profileId', why: `There is no profile ${profileId}.` }
