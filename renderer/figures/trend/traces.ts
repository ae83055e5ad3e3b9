import { convert } from '../../../app/quantity/convert.ts'
import { exact } from '../../../app/quantity/exact.ts'
import { type UnitId, unitIds } from '../../../app/quantity/units.ts'
import { certifiedSignalPerLoad } from '../../chain/certificate-line.ts'
import { heldExcitation } from '../../chain/held-line.ts'
import type { PointView } from '../../state/point-view.ts'
import { strokeOf, type Trace } from './trace.ts'

/** What a trend can be drawn in: the reading in its unit, in percent of maximum load, the signal in mV/V or in mV. */
export const trendQuantities = ['reading', 'percent', 'ratio', 'millivolts'] as const
export type TrendQuantity = (typeof trendQuantities)[number]

export const quantityLabel = (quantity: TrendQuantity, views: readonly PointView[]): string =>
  ({ reading: commonUnit(views) ?? 'own units', percent: '% of maximum', ratio: 'mV/V', millivolts: 'mV' })[quantity]

/** Unit that the reading is shown in now: the indicator's own, before the first reading the point's. */
export const readingUnit = ({ live, point }: PointView): string =>
  live && live.state !== 'never-read' && live.sample.unit !== '' ? live.sample.unit : point.unit

/** The one unit of all readings; undefined where they differ. */
export function commonUnit(views: readonly PointView[]): string | undefined {
  const units = new Set(views.map(readingUnit))
  return units.size === 1 ? [...units][0] : undefined
}

/** The curve of one point, or why it cannot be drawn in this quantity. */
export function traceOf(view: PointView, quantity: TrendQuantity, n: number): Trace | { why: string } {
  const { point } = view
  const base = { pointId: point.id, ...strokeOf(n) }
  const interval = Number(point.scaleInterval)
  if (quantity === 'reading') return { ...base, label: point.tag, quantity: 'reading', unit: readingUnit(view), leastSpan: interval * 20 }
  if (quantity === 'percent') {
    const maximum = maximumIn(view)
    if (maximum === undefined) return { why: `${point.tag} reads in ${readingUnit(view)}, its maximum load is in ${point.unit}` }
    return { ...base, label: point.tag, quantity: 'reading', factor: 100 / maximum, unit: '%', leastSpan: 2 }
  }
  const sample = view.live && view.live.state !== 'never-read' ? view.live.sample : undefined
  if (!sample || sample.signalOrigin === 'none') return { why: `${point.tag} gives no signal` }
  // A signal computed back from the reading is never drawn as if it were measured.
  const label = sample.signalOrigin === 'derived' ? `${point.tag}, derived` : point.tag
  const leastSpan = (certifiedSignalPerLoad(point) ?? 0.002) * interval * 20
  if (sample.signalUnit === (quantity === 'ratio' ? 'mV/V' : 'mV'))
    return { ...base, label, quantity: 'signal', unit: sample.signalUnit, leastSpan }
  const volts = heldExcitation(view)
  if (volts === undefined) return { why: `${point.tag}: its excitation is not known, so mV/V and mV cannot be told from each other` }
  const factor = quantity === 'ratio' ? 1 / volts : volts
  return { ...base, label, quantity: 'signal', factor, unit: quantity === 'ratio' ? 'mV/V' : 'mV', leastSpan: leastSpan * factor }
}

function maximumIn(view: PointView): number | undefined {
  const unit = readingUnit(view)
  const maximum = exact(view.point.maximumLoad)
  if (unit === view.point.unit) return maximum.valueOf() > 0 ? maximum.valueOf() : undefined
  if (!(unitIds as readonly string[]).includes(unit)) return undefined
  const converted = convert(maximum, view.point.unit, unit as UnitId)
  return converted.ok && converted.value.valueOf() > 0 ? converted.value.valueOf() : undefined
}
