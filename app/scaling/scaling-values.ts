import { type Exact, exact } from '../quantity/exact.ts'
import type { UnitId } from '../quantity/units.ts'
import type { ExactLine } from './certificate-scaling.ts'

/** One amount told in three ways: in the point's unit, in scale intervals d, in percent of maximum load. Exact. */
export type Cost = { units: Exact; intervals: Exact; percent: Exact }

/** What the digits of an indicator cost, at maximum load. */
export type RoundingCost = {
  /** Error of the span that these very values make, with its sign; zero taken off. */
  atMaximum: Cost
  /** What rounding can cost at most: half a digit over the signal span of the pairs. */
  atMost: Cost
  /** Reading of the unloaded point because its signal is rounded; zeroing takes it off. */
  zeroShift: Cost
}

/**
 * What an indicator is to hold, and the line that it then shows as two pairs; signals in `signalUnit`, readings in `readingUnit`.
 * With the model of two pairs these are the pairs that it holds; with another one its line at zero and at the upper reading.
 */
export type TwoPairs = {
  lower: { signal: string; reading: string }
  upper: { signal: string; reading: string }
  signalUnit: UnitId
  readingUnit: UnitId
  /** By register key; empty where nothing can be written. */
  values: Record<string, string>
  rounding: RoundingCost
}

/** `perPointUnit`: reading units in one unit of the point. */
export function costOf(line: ExactLine, perPointUnit: Exact, readingUnits: Exact): Cost {
  const units = readingUnits.div(perPointUnit)
  return { units, intervals: units.div(line.scaleInterval), percent: units.div(line.maximumLoad).mul(exact('100')) }
}
