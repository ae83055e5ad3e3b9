import type { Point } from './job/schema.ts'
import { dimensionOf } from './quantity/convert.ts'

export type AppliedKind = 'load' | 'gauge' | 'differential' | 'absolute'

/** What is put on a point, in the words of its trade; one wording for screen, paper and terminal. */
export type AppliedWords = {
  quantity: 'load' | 'pressure'
  /** The most that the point is meant to show: "at …". */
  maximum: string
  /** The same as a label. */
  maximumName: string
  /** More than that, and what to do where the sensors do not stand it. */
  excess: 'overload' | 'overpressure'
  relieve: string
  /** What a check applies between its two ends. */
  known: string
  /** The point with nothing on it: "at …". */
  nothing: string
  /** The three steps of a check, in two or three words each. */
  steps: readonly [string, string, string]
  /** What to do for each of the three. */
  instructions: readonly [string, string, string]
  /** What a check is made with, as a label. */
  standards: string
  /** What must not happen meanwhile. Common practice, no source. */
  caution: string
}

const pressureCaution = 'Hoses and fittings rated for it; release the pressure before a joint is opened. Your site’s rules.'
const pressure = {
  quantity: 'pressure',
  maximum: 'the upper range value',
  maximumName: 'Upper range value',
  excess: 'overpressure',
  relieve: 'Release the pressure',
  known: 'known pressure',
  standards: 'Pressure standard used',
  caution: pressureCaution,
} as const

const words: Record<AppliedKind, AppliedWords> = {
  load: {
    quantity: 'load',
    maximum: 'maximum load',
    maximumName: 'Maximum load',
    excess: 'overload',
    relieve: 'Take it off',
    known: 'known load',
    nothing: 'no load',
    steps: ['unloaded', 'loaded', 'unloaded again'],
    instructions: ['Take everything off the point', 'Put on a known load', 'Take the load off again'],
    standards: 'Weights used',
    caution: 'Nobody under the load. Rated gear, and your site’s rules.',
  },
  gauge: {
    ...pressure,
    nothing: 'vented',
    steps: ['vented', 'under pressure', 'vented again'],
    instructions: ['Vent the point to the air', 'Apply a known pressure', 'Vent it again'],
  },
  differential: {
    ...pressure,
    nothing: 'equalised',
    steps: ['equalised', 'under pressure', 'equalised again'],
    instructions: ['Join both sides, so that they are at one pressure', 'Apply a known difference', 'Join both sides again'],
  },
  absolute: {
    ...pressure,
    nothing: 'air pressure',
    steps: ['open to the air', 'under pressure', 'open to the air again'],
    instructions: [
      'Open the point to the air and read a barometer beside it',
      'Apply a known absolute pressure',
      'Open it to the air again',
    ],
  },
}

/** A pressure not said to be absolute or differential counts as gauge. */
export function appliedKind({ unit, loadPath }: Pick<Point, 'unit' | 'loadPath'>): AppliedKind {
  return dimensionOf(unit) === 'pressure' ? (loadPath.pressure ?? 'gauge') : 'load'
}

export const appliedWords = (point: Pick<Point, 'unit' | 'loadPath'>): AppliedWords => words[appliedKind(point)]
