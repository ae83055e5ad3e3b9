import type { Point, SettingsImage } from '../../app/job/schema.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { type Implied, impliedByHeld } from '../../app/scaling/implied.ts'
import type { PointView } from '../state/point-view.ts'

// by point: an indicator with several channels is read as one
const known = new WeakMap<Point, { held: SettingsImage; profile: Profile; implied: Implied | undefined }>()

/** What the held scaling values imply of the sensors; undefined where nothing can be derived. Computed once for each read. */
export function implied({ point, profile, state }: PointView): Implied | undefined {
  const held = state?.held
  if (!held || !profile) return undefined
  const before = known.get(point)
  if (before?.held === held && before.profile === profile) return before.implied
  const result = impliedByHeld(point, profile, held)
  const found = result.ok ? result.value : undefined
  known.set(point, { held, profile, implied: found })
  return found
}
