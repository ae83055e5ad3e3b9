import type { Point, SettingsImage } from '../../app/job/schema.ts'
import { type Implied, impliedByHeld } from '../../app/scaling/implied.ts'
import type { PointView } from '../state/point-view.ts'

const known = new WeakMap<SettingsImage, { point: Point; implied: Implied | undefined }>()

/** What the held scaling values imply of the sensors; undefined where nothing can be derived. Computed once for each read. */
export function implied(view: PointView): Implied | undefined {
  const held = view.state?.held
  if (!held || !view.profile) return undefined
  const before = known.get(held)
  if (before?.point === view.point) return before.implied
  const result = impliedByHeld(view.point, view.profile, held)
  const found = result.ok ? result.value : undefined
  known.set(held, { point: view.point, implied: found })
  return found
}
