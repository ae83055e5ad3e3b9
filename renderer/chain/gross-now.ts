import { type Exact, exact } from '../../app/quantity/exact.ts'
import { unitIds } from '../../app/quantity/units.ts'
import { readingInPointUnit } from '../../app/scaling/held-reading.ts'
import type { PointView } from '../state/point-view.ts'

/** Gross reading now in the point's unit, every digit of it; undefined where it is stale, or net with a tare that is not known. */
export function grossExact(view: PointView): Exact | undefined {
  if (view.live?.state !== 'fresh') return undefined
  const { gross, reading, status, unit } = view.live.sample
  const text = gross ?? (status.includes('net') ? null : reading)
  const id = unitIds.find((u) => u === unit)
  if (text === null || !id) return undefined
  const value = readingInPointUnit(exact(text), id, view.point)
  return value.ok ? value.value : undefined
}

/** The same as a double, for drawing and showing. */
export const grossNow = (view: PointView): number | undefined => grossExact(view)?.valueOf()
