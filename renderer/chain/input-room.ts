import type { Point, SettingsImage } from '../../app/job/schema.ts'
import type { Profile } from '../../app/profile/schema.ts'
import type { Result } from '../../app/result.ts'
import { type Headroom, headroom } from '../../app/scaling/headroom.ts'
import { atInputLimit } from '../../app/scaling/input-limit.ts'
import type { ScalingFailure } from '../../app/scaling/scaling-failure.ts'
import { fixedText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'

type Room = Result<Headroom, ScalingFailure>
type Rooms = { held: Room; intended: Room }

const known = new WeakMap<Point, Rooms & { of: SettingsImage | null; profile: Profile | undefined }>()

/** Room in the input by the range that is held and by the one intended. Computed once for each state of point and settings. */
export function inputRoom({ point, profile, state }: PointView): Rooms {
  const of = state?.held ?? null
  const before = known.get(point)
  if (before && before.of === of && before.profile === profile) return before
  const rooms = { held: headroom(point, profile, of), intended: headroom(point, profile, of, 'intended'), of, profile }
  known.set(point, rooms)
  return rooms
}

/** That the expected signal goes beyond the input below maximum load; undefined where it does not, or nothing is known of it. */
export function rangeTooSmall(view: PointView): { said: string; why: string } | undefined {
  const rooms = inputRoom(view)
  const beyond = ({ held, intended }: Rooms) => [held, intended].find((r) => r.ok && r.value.verdict === 'beyond')
  const found = beyond(rooms)
  if (!found?.ok || !found.value.limits) return undefined
  const { limits, maximum, unit } = found.value
  return {
    said: `${limits.origin === 'intended' ? 'intended range' : 'range'} too small for Max`,
    why: `${fixedText(maximum.valueOf(), 3, view.job.decimalSign)} ${unit} at Max, range ${limits.means}`,
  }
}

/** Of an input at its limit, wherever it is told. */
export const clippedWords = { said: 'at its limit', why: 'a lead open, or the range too small' }

/** Whether the signal as it was last read is held back by the input, so that it is not the sensor's. */
export const inputClipped = ({ point, profile, state, live }: PointView): boolean =>
  live !== undefined && live.state !== 'never-read' && atInputLimit(point, profile, state?.held ?? null, live.sample)
