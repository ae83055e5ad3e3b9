import type { Profile } from '../profile/schema.ts'
import { exact, zero } from '../quantity/exact.ts'
import type { Job, Point } from './schema.ts'

/** OIML R 76-1:2006, 3.4.2: with an auxiliary indicating device e is above d and at most 10 d; without one e equals d (table 2). */
const mostScaleIntervals = '10'

export type Clash = {
  where: 'tag' | 'channel' | 'indicatorId' | 'maximumLoad' | 'scaleInterval' | 'verificationInterval' | 'loadPath.sharePercent'
  why: string
}

type Others = readonly Point[]
type Indicators = Job['indicators']
type Profiles = ReadonlyMap<string, Profile>

/**
 * Why a point cannot stand in a job beside the others; null where it can. Tags are unique, one point has a channel to itself,
 * and its loads make sense: maximum load above nought, scale interval above nought and below maximum load, e from d to 10 d.
 */
export function pointClash(point: Point, others: Others, indicators: Indicators, profiles: Profiles): Clash | null {
  const [first = null] = pointClashes({ ...point, sharePercent: point.loadPath.sharePercent }, others, indicators, profiles)
  return first
}

/** What is known of a point, a row of a sheet say; what is not cannot clash. */
type Known = { [K in 'id' | 'tag' | 'unit' | 'maximumLoad' | 'scaleInterval' | 'verificationInterval']?: Point[K] | undefined } & {
  indicatorId?: string | undefined
  channel?: number | undefined
  sharePercent?: string | undefined
}

/** All that is wrong, once each place. */
export function pointClashes(point: Known, others: Others, indicators: Indicators, profiles: Profiles): Clash[] {
  const beside = others.filter((p) => p.id !== point.id)
  const found: Clash[] = []
  if (beside.some((p) => p.tag === point.tag))
    found.push({ where: 'tag', why: `The tag ${point.tag} is already used; tags are unique in a job.` })
  found.push(...loadClashes(point))
  if (point.sharePercent !== undefined && exact(point.sharePercent).lte(zero))
    found.push({
      where: 'loadPath.sharePercent',
      why: 'The share of the load that the sensors carry must be above nought, e.g. 100.',
    })
  const misplaced = placeClash(point, beside, indicators, profiles)
  return misplaced ? [...found, misplaced] : found
}

function loadClashes({ unit, maximumLoad, scaleInterval, verificationInterval }: Known): Clash[] {
  const [maximum, interval] = [maximumLoad, scaleInterval].map((v) => (v === undefined ? undefined : exact(v)))
  const found: Clash[] = []
  if (maximum?.lte(zero)) found.push({ where: 'maximumLoad', why: 'The maximum load must be above nought.' })
  if (!interval) return found
  if (interval.lte(zero) || (maximum?.gt(zero) && interval.gte(maximum)))
    return [
      ...found,
      {
        where: 'scaleInterval',
        why: `The scale interval must be above nought and below the maximum load${maximum?.gt(zero) ? ` of ${maximumLoad} ${unit}` : ''}.`,
      },
    ]
  const verification = verificationInterval === undefined ? interval : exact(verificationInterval)
  if (verification.lt(interval) || verification.gt(interval.mul(exact(mostScaleIntervals))))
    found.push({
      where: 'verificationInterval',
      why: `The verification scale interval e must be at least the scale interval d of ${scaleInterval} ${unit} and at most ten times as much.`,
    })
  return found
}

function placeClash({ indicatorId, channel }: Known, beside: Others, indicators: Indicators, profiles: Profiles): Clash | null {
  if (indicatorId === undefined) return null
  const indicator = indicators.find((i) => i.id === indicatorId)
  if (!indicator) return { where: 'indicatorId', why: `There is no indicator ${indicatorId} in this job.` }
  if (channel === undefined) return null
  const channels = profiles.get(indicator.profileId)?.channels
  if (channels !== undefined && channel > channels)
    return { where: 'channel', why: `${indicator.name} has ${channels === 1 ? 'one channel' : `channels 1 to ${channels}`}.` }
  const rival = beside.find((p) => p.indicatorId === indicatorId && p.channel === channel)
  return rival ? { where: 'channel', why: `${rival.tag} already measures channel ${channel} of this indicator.` } : null
}
