import { type Exact, exact, sum, zero } from '../quantity/exact.ts'

/** What a pressure sensor measures against. */
export type PressureKind = 'gauge' | 'absolute' | 'differential'

/** All in one unit, absolute. */
export type Pressures = {
  process: Exact /** Air around the sensor. */
  ambient: Exact /** At the low side of a differential sensor. */
  lowSide?: Exact
}

/** Pressure that a sensor of a kind feels; undefined for a differential one whose low side is not known. */
export function pressureFelt(kind: PressureKind, p: Pressures): Exact | undefined {
  switch (kind) {
    case 'gauge':
      return p.process.sub(p.ambient)
    case 'absolute':
      return p.process
    case 'differential':
      return p.lowSide && p.process.sub(p.lowSide)
  }
}

/** Range of a sensor, in its unit; compound where it begins below nought (-1 to 3 bar). */
export type PressureRange = { from: Exact; to: Exact }

/**
 * Signal at a pressure for a sensor whose certificate states its signals at both ends of its range, in mV/V.
 * In a compound range nought lies inside: the signal there is neither of the two. Limits: a straight line.
 */
export function signalInRange(range: PressureRange, signals: { from: Exact; to: Exact }, pressure: Exact): Exact {
  const span = range.to.sub(range.from)
  if (span.lte(zero)) throw new RangeError('a pressure range ends above where it begins')
  return signals.from.add(signals.to.sub(signals.from).mul(pressure.sub(range.from)).div(span))
}

/** Does the range hold this pressure? Gauge ranges from nought do not hold a vacuum. */
export const rangeHolds = (range: PressureRange, pressure: Exact): boolean => pressure.gte(range.from) && pressure.lte(range.to)

/** A column of fluid: height in m (its surface or the reference above the sensor is positive), density in kg/m³. */
export type Column = { height: Exact; density: Exact }

/**
 * Pressure in Pa that columns of fluid add at the sensor: density x gravity x height, summed; below the reference they take away.
 * `gravity` in m/s². Limits: density constant over the height; the air beside the column left out. Source: hydrostatics.
 */
export const headOf = (columns: readonly Column[], gravity: Exact): Exact => sum(columns.map((c) => c.density.mul(gravity).mul(c.height)))

/** Height in m of a column that makes a pressure in Pa. */
export function heightOfHead(pressure: Exact, density: Exact, gravity: Exact): Exact {
  if (density.lte(exact('0')) || gravity.lte(exact('0'))) throw new RangeError('density and gravity are above nought')
  return pressure.div(density).div(gravity)
}
