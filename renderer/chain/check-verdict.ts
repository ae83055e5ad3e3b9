import type { Point, QuickCheck } from '../../app/job/schema.ts'
import { heldValue, type PointView } from '../state/point-view.ts'

const scalingNames = ['scale.lower.signal', 'scale.lower.reading', 'scale.upper.signal', 'scale.upper.reading', 'reading.unit']

/** A check made before the scaling values changed tells nothing of the point as it is now. */
export function isSuperseded(view: PointView, check: QuickCheck): boolean {
  const { held } = check
  if (!held || !view.state?.held) return false
  return scalingNames.some((name) => {
    const then = (held.values[`${name}@${view.point.channel}`] ?? held.values[name])?.value
    const now = heldValue(view, name)
    return then !== undefined && now !== undefined && then !== now
  })
}

/** Loaded steps of a check: those that say something of the span. */
export const errorOf = (step: { load: string; reading: string }) => Number(step.reading) - Number(step.load)

export const inIntervals = (error: number, point: Point) => error / Number(point.scaleInterval)
