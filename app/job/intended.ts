import { whyNotIntended } from '../profile/intended-value.ts'
import { isScaling } from '../profile/scaling-registers.ts'
import type { Profile } from '../profile/schema.ts'
import type { Intended, IntendedChange, Point } from './schema.ts'

type Placed = Pick<Point, 'channel' | 'intended'>

/** What the points of one indicator intend for it together. A value of another channel than the point's own is nobody's. */
export const intendedOn = (points: readonly Placed[]): Intended =>
  Object.fromEntries(points.flatMap((p) => Object.entries(p.intended).filter(([key]) => isFor(key, p.channel))))

/** Whether a value belongs to this channel, or to the whole indicator. */
export const isFor = (key: string, channel: number): boolean => !key.includes('@') || key.endsWith(`@${channel}`)

/** Those of these points of one indicator that some of the settings are of. */
export const pointsOf = <P extends Pick<Point, 'channel'>>(points: readonly P[], keys: readonly string[]): P[] =>
  points.filter((p) => keys.some((key) => isFor(key, p.channel)))

/** What is intended after a change of it. */
export const withIntended = (intended: Intended, change: IntendedChange): Intended => givenIn({ ...intended, ...change })

/** The values that a change gives; what it takes back is left out. */
export const givenIn = (change: IntendedChange): Intended =>
  Object.fromEntries(Object.entries(change).flatMap(([key, value]) => (value === null ? [] : [[key, value]])))

/** What is intended on one channel, for another one. */
export const onChannel = (intended: Intended, from: number, to: number): Intended =>
  Object.fromEntries(
    Object.entries(intended).flatMap(([key, value]) => (isFor(key, from) ? [[key.replace(/@\d+$/, `@${to}`), value]] : [])),
  )

/** What an indicator of another profile can hold of it; scaling values were decided in the digits of the one before and stay behind. */
export const heldByAnother = (intended: Intended, profile: Profile): Intended =>
  Object.fromEntries(Object.entries(intended).filter(([key]) => !isScaling(key) && whyNotIntended(profile, key, intended, null) === null))

/**
 * What a point intends once it is measured elsewhere: on another channel of its indicator the same; on another indicator what belongs
 * to the channel, and of that what it can hold where its profile is another. Without an indicator it waits for the next one.
 */
export function intendedAfter(before: Point, after: Point, profileOf: (indicatorId: string | undefined) => Profile | undefined): Intended {
  const intended = before.channel === after.channel ? after.intended : onChannel(after.intended, before.channel, after.channel)
  if (before.indicatorId === after.indicatorId) return intended
  const ofChannel = Object.fromEntries(Object.entries(intended).filter(([key]) => key.includes('@')))
  const [was, is] = [profileOf(before.indicatorId), profileOf(after.indicatorId)]
  return is === undefined || was?.id === is.id ? ofChannel : heldByAnother(ofChannel, is)
}
