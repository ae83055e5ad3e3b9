import type { Point } from '../../app/job/schema.ts'
import { kindOf } from '../../app/quantity/convert.ts'
import { type DecimalSign, plusMinus } from '../../app/quantity/format.ts'
import { numberIn } from '../../app/quantity/number-in.ts'
import { parseQuantity } from '../../app/quantity/parse.ts'
import type { QuantityText } from '../../app/quantity/quantity-text.ts'
import { type Dimension, type UnitId, units } from '../../app/quantity/units.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { numberText } from '../figures/number-text.ts'
import type { PointChange } from '../state/use-point-edit.ts'

type Read = Result<PointChange, string>

/** A value that several points can be given at once. */
export type SeveralField = {
  id: string
  label: string
  /** How it is typed, or what it can be chosen from. */
  example: string
  options?: readonly string[]
  shown: (point: Point, sign: DecimalSign) => string
  read: (typed: string, point: Point, sign: DecimalSign) => Read
}

export const severalFields: readonly SeveralField[] = [
  {
    id: 'scaleInterval',
    label: 'Scale interval d',
    example: '0.2 kg, or 0.2 in the unit of each point',
    shown: (p, sign) => inUnit(p.scaleInterval, p, sign),
    read: (typed, p, sign) => mapped(inUnitOf(typed, p, sign), (scaleInterval) => ({ scaleInterval })),
  },
  {
    id: 'maximumLoad',
    label: 'Maximum load',
    example: '1200 kg, or 1200 in the unit of each point',
    shown: (p, sign) => inUnit(p.maximumLoad, p, sign),
    read: (typed, p, sign) => mapped(inUnitOf(typed, p, sign), (maximumLoad) => ({ maximumLoad })),
  },
  {
    id: 'tolerance',
    label: 'Tolerance of checks',
    example: '0.5 kg, or 0.5 in the unit of each point',
    shown: (p, sign) => (p.tolerance ? plusMinus(inUnit(p.tolerance.value, p, sign)) : 'none'),
    read: (typed, p, sign) =>
      mapped(inUnitOf(typed.replace(/^±\s*/, ''), p, sign), (value) => ({
        tolerance: { value, why: value === p.tolerance?.value ? p.tolerance.why : '' },
      })),
  },
  {
    id: 'deadLoad',
    label: 'Dead load',
    example: '150 kg',
    shown: (p, sign) => quantity(p.loadPath.deadLoad, sign),
    read: (typed, p, sign) =>
      mapped(asQuantity(typed, kindOf(p.unit), p.unit, sign), (deadLoad) => ({
        loadPath: { ...p.loadPath, deadLoad },
      })),
  },
  {
    id: 'gravityHere',
    label: 'Gravity here',
    example: '9.8067 m/s²',
    shown: (p, sign) => quantity(p.loadPath.gravityHere, sign),
    read: (typed, p, sign) =>
      mapped(asQuantity(typed, ['acceleration'], 'm/s2', sign), (gravityHere) => ({ loadPath: { ...p.loadPath, gravityHere } })),
  },
  {
    id: 'sharePercent',
    label: 'Share of the load carried',
    example: '100, in percent',
    shown: (p, sign) => `${numberText(p.loadPath.sharePercent, sign)} %`,
    read: (typed, p, sign) => mapped(numberOf('%', typed, sign), (sharePercent) => ({ loadPath: { ...p.loadPath, sharePercent } })),
  },
  {
    id: 'wires',
    label: 'Wires',
    example: 'four or six',
    options: ['4', '6'],
    shown: (p) => (p.wiring.wires === undefined ? 'not stated' : p.wiring.wires === 6 ? 'six' : 'four'),
    read: (typed, p) => ok({ wiring: { ...p.wiring, wires: typed === '6' ? 6 : 4 } }),
  },
  {
    id: 'trimmed',
    label: 'Junction box trimmed',
    example: 'yes or no',
    options: ['no', 'yes'],
    shown: (p) => (p.sensors.trimmed ? 'yes' : 'no'),
    read: (typed, p) => ok({ sensors: { ...p.sensors, trimmed: typed === 'yes' } }),
  },
]

const inUnit = (value: string, point: Point, sign: DecimalSign) => `${numberText(value, sign)} ${units[point.unit].symbol}`
const quantity = (q: QuantityText | undefined, sign: DecimalSign) =>
  q ? `${numberText(q.value, sign)} ${units[q.unit].symbol}` : 'not stated'

function mapped<V>(read: Result<V, string>, change: (value: V) => PointChange): Read {
  return read.ok ? ok(change(read.value)) : read
}

function numberOf(unit: UnitId, typed: string, sign: DecimalSign): Result<string, string> {
  const number = numberIn(unit, typed, sign)
  return number.ok ? number : fail(number.failure.why)
}

function asQuantity(
  typed: string,
  dimensions: readonly Dimension[],
  unit: QuantityText['unit'],
  sign: DecimalSign,
): Result<QuantityText, string> {
  const read = parseQuantity(typed, { decimalSign: sign, dimensions, unit })
  return read.ok ? read : fail(read.failure.why)
}

const inUnitOf = (typed: string, point: Point, sign: DecimalSign) => numberOf(point.unit, typed, sign)
