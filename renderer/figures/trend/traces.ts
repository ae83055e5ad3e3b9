import { convert } from '../../../app/quantity/convert.ts'
import { exact } from '../../../app/quantity/exact.ts'
import { type UnitId, unitIds } from '../../../app/quantity/units.ts'
import { certifiedSignalPerLoad } from '../../chain/certificate-line.ts'
import { heldExcitation } from '../../chain/held-line.ts'
import type { PointView } from '../../state/point-view.ts'
import { decimalsOf } from '../number-text.ts'
import { strokeOf, type Trace } from './trace.ts'

/** An axis is never less high than this many scale intervals, so that noise is not blown up to fill it. */
export const leastIntervals = 20

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
  if (quantity === 'reading')
    return { ...base, label: point.tag, quantity: 'reading', unit: readingUnit(view), leastSpan: intervalIn(view) * leastIntervals }
  if (quantity === 'percent') {
    const maximum = maximumIn(view)
    if (maximum === undefined) return { why: `${point.tag} reads in ${readingUnit(view)}, its maximum load is in ${point.unit}` }
    return {
      ...base,
      label: point.tag,
      quantity: 'reading',
      factor: 100 / maximum,
      unit: '%',
      leastSpan: (100 * interval * leastIntervals) / Number(point.maximumLoad),
    }
  }
  const sample = view.live && view.live.state !== 'never-read' ? view.live.sample : undefined
  if (!sample || sample.signalOrigin === 'none') return { why: `${point.tag} gives no signal` }
  // A signal computed back from the reading is never drawn as if it were measured.
  const label = sample.signalOrigin === 'derived' ? `${point.tag}, derived` : point.tag
  const leastSpan = (certifiedSignalPerLoad(point) ?? 0.002) * interval * leastIntervals
  if (sample.signalUnit === (quantity === 'ratio' ? 'mV/V' : 'mV'))
    return { ...base, label, quantity: 'signal', unit: sample.signalUnit, leastSpan }
  const volts = heldExcitation(view)
  if (volts === undefined) return { why: `${point.tag}: its excitation is not known, so mV/V and mV cannot be told from each other` }
  const factor = quantity === 'ratio' ? 1 / volts : volts
  return { ...base, label, quantity: 'signal', factor, unit: quantity === 'ratio' ? 'mV/V' : 'mV', leastSpan: leastSpan * factor }
}

/** An amount in the unit of the point as the unit of the reading has it. */
function inReadingUnit(amount: string, view: PointView): number | undefined {
  const unit = readingUnit(view)
  const value = exact(amount)
  if (unit === view.point.unit) return value.valueOf()
  if (!(unitIds as readonly string[]).includes(unit)) return undefined
  const converted = convert(value, view.point.unit, unit as UnitId)
  return converted.ok ? converted.value.valueOf() : undefined
}

function maximumIn(view: PointView): number | undefined {
  const maximum = inReadingUnit(view.point.maximumLoad, view)
  return maximum !== undefined && maximum > 0 ? maximum : undefined
}

/** The scale interval; in a unit that is none of ours the last digit of the reading. */
function intervalIn(view: PointView): number {
  const { live } = view
  const shown = live && live.state !== 'never-read' ? live.sample.reading : null
  return inReadingUnit(view.point.scaleInterval, view) ?? 10 ** -decimalsOf(shown ?? '')
}
