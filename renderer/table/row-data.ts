import { dimensionOf, toBase } from '../../app/quantity/convert.ts'
import { exact } from '../../app/quantity/exact.ts'
import type { UnitId } from '../../app/quantity/units.ts'
import { needsAttention } from '../chain/chain-cells.ts'
import { implied } from '../chain/implied-by-held.ts'
import { isSuperseded, judgeCheck } from '../chain/judge-check.ts'
import { readingState, signalState } from '../chain/reading-text.ts'
import type { PlaceId } from '../places/place-ids.ts'
import { ownDifferences, type PointView } from '../state/point-view.ts'

/** Kilograms and bars have no order among themselves: each kind has its own. */
export type SortValue = readonly [kind: string, value: number]

/** What a point is sorted, filtered and found by; taken when somebody asks, so that rows stay where they are while values change. */
export type RowData = {
  id: string
  /** 2 lost or outside, 1 needs a look, 0 neither. */
  attention: number
  sortBy: Record<PlaceId, SortValue>
  tag: string
  /** Everything that it is found by, in small letters. */
  text: string
}

export function rowData(view: PointView): RowData {
  const { point } = view
  return {
    id: view.point.id,
    attention: Math.max(0, ...needsAttention(view).map(({ tone }) => (tone === 'lost' ? 2 : 1))),
    sortBy: sortValues(view),
    tag: point.tag,
    text: findText(view),
  }
}

/** Tag, name, indicator and serial numbers of the sensors. */
export function findText({ point, indicator }: Pick<PointView, 'point' | 'indicator'>): string {
  const serials = point.sensors.certificates.map((c) => c.serial)
  return [point.tag, point.name, indicator?.name ?? '', ...serials].join('\n').toLowerCase()
}

/** Every word typed must be somewhere. */
export const foundBy = (text: string, typed: string): boolean =>
  typed
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word))

/** Below everything that has a value. */
const nothing: SortValue = ['', Number.NEGATIVE_INFINITY]
const plain = (value: number | undefined): SortValue => (value === undefined ? nothing : ['plain', value])

export const bySortValue = ([kind, value]: SortValue, [otherKind, other]: SortValue): number =>
  kind === otherKind ? (value === other ? 0 : value < other ? -1 : 1) : kind < otherKind ? -1 : 1

function sortValues(view: PointView): RowData['sortBy'] {
  const { point } = view
  const [certificate] = point.sensors.certificates
  const { reading } = readingState(view)
  return {
    load: inBase(point.maximumLoad, point.unit),
    sensors: certificate?.capacity
      ? inBase(certificate.capacity.value, certificate.capacity.unit, point.sensors.certificates.length)
      : nothing,
    wiring: plain(point.wiring.wires),
    input: plain(signalState(view)?.value),
    scaling: plain(implied(view)?.differencePercent.abs().valueOf()),
    settings: view.state?.held ? plain(ownDifferences(view).length) : nothing,
    reading: reading === null || !decimal.test(reading) ? nothing : inBase(reading, point.unit),
    check: plain(checkRank(view)),
  }
}

const decimal = /^-?\d+(\.\d+)?$/
const inBase = (value: string, unit: UnitId, times = 1): SortValue => [dimensionOf(unit), toBase(exact(value), unit).valueOf() * times]

/** Outside before undecided before unchecked before within. */
function checkRank(view: PointView): number {
  const { lastCheck } = view
  if (!lastCheck || isSuperseded(view, lastCheck)) return 1
  return { outside: 3, 'cannot-be-judged': 2, within: 0 }[judgeCheck(view, lastCheck).verdict]
}
