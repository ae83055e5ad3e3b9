import type { Profile } from '../profile/schema.ts'
import { exact, zero } from '../quantity/exact.ts'
import type { Job, Point } from './schema.ts'

/** OIML R 76-1:2006, 3.4.2: with an auxiliary indicating device e is above d and at most 10 d; without one e equals d (table 2). */
const mostScaleIntervals = '10'

export type Clash = {
  where: 'tag' | 'channel' | 'indicatorId' | 'maximumLoad' | 'scaleInterval' | 'verificationInterval' | 'loadPath.sharePercent'
  why: string
}

/**
 * Why a point cannot stand in a job beside the others; null where it can. Tags are unique, one point has a channel to itself,
 * and its loads make sense: maximum load above nought, scale interval above nought and below maximum load, e from d to 10 d.
 */
export function pointClash(
  point: Point,
  others: readonly Point[],
  indicators: Job['indicators'],
  profiles: ReadonlyMap<string, Profile>,
): Clash | null {
  if (others.some((p) => p.id !== point.id && p.tag === point.tag))
    return { where: 'tag', why: `The tag ${point.tag} is already used; tags are unique in a job.` }
  const [maximum, interval] = [exact(point.maximumLoad), exact(point.scaleInterval)]
  if (maximum.lte(zero)) return { where: 'maximumLoad', why: 'The maximum load must be above nought.' }
  if (interval.lte(zero) || interval.gte(maximum))
    return {
      where: 'scaleInterval',
      why: `The scale interval must be above nought and below the maximum load of ${point.maximumLoad} ${point.unit}.`,
    }
  const verification = point.verificationInterval === undefined ? interval : exact(point.verificationInterval)
  if (verification.lt(interval) || verification.gt(interval.mul(exact(mostScaleIntervals))))
    return {
      where: 'verificationInterval',
      why: `The verification scale interval e must be at least the scale interval d of ${point.scaleInterval} ${point.unit} and at most ten times as much.`,
    }
  if (exact(point.loadPath.sharePercent).lte(zero))
    return { where: 'loadPath.sharePercent', why: 'The share of the load that the sensors carry must be above nought, e.g. 100.' }
  if (point.indicatorId === undefined) return null
  const indicator = indicators.find((i) => i.id === point.indicatorId)
  if (!indicator) return { where: 'indicatorId', why: `There is no indicator ${point.indicatorId} in this job.` }
  const channels = profiles.get(indicator.profileId)?.channels
  if (channels !== undefined && point.channel > channels)
    return { where: 'channel', why: `${indicator.name} has ${channels === 1 ? 'one channel' : `channels 1 to ${channels}`}.` }
  const rival = others.find((p) => p.id !== point.id && p.indicatorId === point.indicatorId && p.channel === point.channel)
  return rival ? { where: 'channel', why: `${rival.tag} already measures channel ${point.channel} of this indicator.` } : null
}
