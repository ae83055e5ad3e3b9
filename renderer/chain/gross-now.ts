import { exact } from '../../app/quantity/exact.ts'
import { unitIds } from '../../app/quantity/units.ts'
import { readingInPointUnit } from '../../app/scaling/held-reading.ts'
import type { PointView } from '../state/point-view.ts'

/** Gross reading now in the point's unit; undefined where it is stale, or net with a tare that is not known. */
export function grossNow(view: PointView): number | undefined {
  if (view.live?.state !== 'fresh') return undefined
  const { gross, reading, status, unit } = view.live.sample
  const text = gross ?? (status.includes('net') ? null : reading)
  const id = unitIds.find((u) => u === unit)
  if (text === null || !id) return undefined
  const value = readingInPointUnit(exact(text), id, view.point)
  return value.ok ? value.value.valueOf() : undefined
}
