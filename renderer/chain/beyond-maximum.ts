import { fixedText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'
import { grossNow } from './gross-now.ts'

/** How many scale intervals over the maximum load a reading may be and still count as at it. Trade practice, from memory (OIML R 76-1: Max + 9 e). */
const marginIntervals = 9

export type BeyondMaximum = { word: 'above Max' | 'beyond −Max' /** Of the maximum load, without a sign, in percent. */; percent: string }

/**
 * Whether the live gross reading is further from zero than the maximum load of the point and 9 scale intervals; undefined where it is
 * not, or no gross reading is known now. A force that acts the other way loads its sensors as much. How far below zero a reading may be
 * is not judged: it depends on what the indicator has tared or zeroed away.
 */
export function beyondMaximum(view: PointView): BeyondMaximum | undefined {
  const gross = grossNow(view)
  const { point, job } = view
  const maximum = Number(point.maximumLoad)
  if (gross === undefined || Math.abs(gross) <= maximum + marginIntervals * Number(point.scaleInterval)) return undefined
  return { word: gross > 0 ? 'above Max' : 'beyond −Max', percent: fixedText((Math.abs(gross) / maximum) * 100, 0, job.decimalSign) }
}
