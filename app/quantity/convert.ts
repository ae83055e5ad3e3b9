import { fail, ok, type Result } from '../result.ts'
import { type Exact, exact, zero } from './exact.ts'
import type { QuantityText } from './quantity-text.ts'
import { type Dimension, type UnitId, units } from './units.ts'

export type ConvertFailure =
  | { kind: 'different-dimensions'; from: UnitId; to: UnitId }
  /** Mass against force: only a stated gravity leads from one to the other. */
  | { kind: 'needs-gravity'; from: UnitId; to: UnitId }

export const dimensionOf = (unit: UnitId): Dimension => units[unit].dimension

export function explainConvertFailure(failure: ConvertFailure): string {
  const [from, to] = [units[failure.from], units[failure.to]]
  switch (failure.kind) {
    case 'different-dimensions':
      return `${from.symbol} is a unit of ${words(from.dimension)}, ${to.symbol} one of ${words(to.dimension)}: neither converts into the other.`
    case 'needs-gravity':
      return `From ${from.symbol} to ${to.symbol} leads only gravity: state the gravity that applies, in m/s².`
  }
}

const words = (dimension: Dimension) => dimension.replace('-', ' ')

/** What a value in this unit can also be stated in: mass and force lead to one another through gravity, nothing else does. */
export function kindOf(unit: UnitId): readonly Dimension[] {
  const own = dimensionOf(unit)
  return own === 'mass' || own === 'force' ? ['mass', 'force'] : [own]
}

export const sameKind = (a: UnitId, b: UnitId): boolean => kindOf(a).includes(dimensionOf(b))

/** "mass or force", "pressure". */
export const kindWords = (unit: UnitId): string => kindOf(unit).map(words).join(' or ')
const factor = (unit: UnitId) => exact(units[unit].factor)
const offset = (unit: UnitId) => exact(units[unit].offset ?? '0')

/** Value in the base unit of its dimension (kg, N, Pa, V/V for mV/V, K, ...), exact. */
export const toBase = (value: Exact, unit: UnitId): Exact => value.add(offset(unit)).mul(factor(unit))
export const fromBase = (value: Exact, unit: UnitId): Exact => value.div(factor(unit)).sub(offset(unit))

/** Converts between units of one dimension, exactly. Temperatures are points on their scales: 0 degC is 273.15 K. */
export function convert(value: Exact, from: UnitId, to: UnitId): Result<Exact, ConvertFailure> {
  const refused = refuse(from, to)
  return refused ? fail(refused) : ok(fromBase(toBase(value, from), to))
}

/** Converts a difference of two values: 1 degC is 1.8 degF, without offset. */
export function convertDifference(value: Exact, from: UnitId, to: UnitId): Result<Exact, ConvertFailure> {
  const refused = refuse(from, to)
  return refused ? fail(refused) : ok(value.mul(factor(from)).div(factor(to)))
}

function refuse(from: UnitId, to: UnitId): ConvertFailure | undefined {
  const pair = [dimensionOf(from), dimensionOf(to)]
  if (pair[0] === pair[1]) return undefined
  return { kind: pair.includes('mass') && pair.includes('force') ? 'needs-gravity' : 'different-dimensions', from, to }
}

/**
 * Converts like `convert`, and between mass and force by F = m g; buoyancy is not in it.
 * `gravity` in m/s², exact, above nought.
 */
export function convertThroughGravity(value: Exact, from: UnitId, to: UnitId, gravity: Exact): Result<Exact, ConvertFailure> {
  if (gravity.lte(zero)) throw new RangeError('gravity must be above nought')
  const refused = refuse(from, to)
  if (refused?.kind !== 'needs-gravity') return convert(value, from, to)
  const base = toBase(value, from)
  return ok(fromBase(dimensionOf(from) === 'mass' ? base.mul(gravity) : base.div(gravity), to))
}

/** Value of a quantity text in another unit of its dimension. */
export const quantityIn = (quantity: QuantityText, unit: UnitId): Result<Exact, ConvertFailure> =>
  convert(exact(quantity.value), quantity.unit, unit)
