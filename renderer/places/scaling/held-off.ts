import { implied } from '../../chain/implied-by-held.ts'
import type { PointView } from '../../state/point-view.ts'

/** Span error at maximum load that the held values make against the exact line by the certificates; zero taken off. */
export function heldOff(view: PointView): { units: number; intervals: number } | undefined {
  const found = implied(view)
  if (!found) return undefined
  const maximum = Number(view.point.maximumLoad)
  const shown = maximum / (1 + found.differencePercent.valueOf() / 100)
  return { units: shown - maximum, intervals: (shown - maximum) / Number(view.point.scaleInterval) }
}
