import type { Profile } from '../../app/profile/schema.ts'

export type Pair = { signal: number; reading: number }

/** What a unit holds and sees, by the name of a register. */
export type ScalingView = {
  has(name: string): boolean
  /** Value in the register's own unit; undefined where the unit has no such register. */
  value(name: string): number | undefined
  /** The present signal in the unit of that register. */
  signalAs(name: string): number
}

type Scaling = Profile['scaling']
type Shape = 'pairs' | 'counts' | 'table' | 'line' | 'sensor'

/** Reading on the line through two pairs; undefined where they have the same signal. */
export const readingOnLine = (lower: Pair, upper: Pair, signal: number): number | undefined => {
  const span = upper.signal - lower.signal
  return span === 0 ? undefined : lower.reading + ((signal - lower.signal) * (upper.reading - lower.reading)) / span
}

/** Reading on straight lines from pair to pair; the outermost ones go on. Undefined where the signals do not rise from each to the next. */
export const readingOnTable = (pairs: readonly Pair[], signal: number): number | undefined => {
  const rises = pairs.every((pair, i) => i === 0 || pair.signal > (pairs[i - 1]?.signal ?? Number.NaN))
  if (pairs.length < 2 || !rises) return undefined
  const after = pairs.findIndex((pair, i) => i > 0 && signal <= pair.signal)
  const upperAt = after === -1 ? pairs.length - 1 : after
  const [lower, upper] = [pairs[upperAt - 1], pairs[upperAt]]
  return lower && upper && readingOnLine(lower, upper, signal)
}

const pairNamed = (view: ScalingView, signalName: string, readingName: string): Pair | undefined => {
  const [signal, reading] = [view.value(signalName), view.value(readingName)]
  return signal === undefined || reading === undefined ? undefined : { signal, reading }
}

const onTwoPairs = (view: ScalingView, measure: 'signal' | 'counts'): number | undefined => {
  const lower = pairNamed(view, `scale.lower.${measure}`, 'scale.lower.reading')
  const upper = pairNamed(view, `scale.upper.${measure}`, 'scale.upper.reading')
  return lower && upper && readingOnLine(lower, upper, view.signalAs(`scale.lower.${measure}`))
}

/** As many pairs as `scale.table.count` says, or all that the profile has registers for. */
const onTable = (view: ScalingView): number | undefined => {
  const pairs: Pair[] = []
  const count = view.value('scale.table.count') ?? Number.POSITIVE_INFINITY
  for (let n = 1; n <= count; n++) {
    const pair = pairNamed(view, `scale.table.${n}.signal`, `scale.table.${n}.reading`)
    if (pair === undefined) break
    pairs.push(pair)
  }
  return readingOnTable(pairs, view.signalAs('scale.table.1.signal'))
}

/** reading = slope x signal + intercept, the signal in the profile's `signalUnit`. */
const onSlope = (view: ScalingView): number | undefined => {
  const [slope, intercept] = [view.value('scale.slope'), view.value('scale.intercept')]
  return slope === undefined || intercept === undefined || slope === 0 ? undefined : slope * view.signalAs('scale.slope') + intercept
}

/** reading = (signal - zero balance) x capacity / rated output. */
const onRatedOutput = (view: ScalingView): number | undefined => {
  const [capacity, ratedOutput] = [view.value('scale.capacity'), view.value('scale.rated-output')]
  if (capacity === undefined || ratedOutput === undefined || ratedOutput === 0) return undefined
  return ((view.signalAs('scale.rated-output') - (view.value('scale.zero-balance') ?? 0)) * capacity) / ratedOutput
}

const shapeOf = ({ model }: Scaling, view: ScalingView): Shape | undefined => {
  switch (model) {
    case 'two-pairs':
    case 'applied-load-capture':
      return 'pairs'
    case 'counts':
      return view.has('scale.lower.counts') ? 'counts' : 'pairs'
    case 'pair-table':
      return 'table'
    case 'slope-intercept':
      return 'line'
    case 'capacity-rated-output':
      return 'sensor'
    case 'front-panel-entry':
      if (view.has('scale.lower.signal')) return 'pairs'
      if (view.has('scale.lower.counts')) return 'counts'
      if (view.has('scale.table.1.signal')) return 'table'
      if (view.has('scale.slope')) return 'line'
      return view.has('scale.capacity') ? 'sensor' : undefined
  }
}

/** Reading before zero and tare, unrounded; undefined where the settings make none. */
export const readingBy = (scaling: Scaling, view: ScalingView): number | undefined => {
  const shape = shapeOf(scaling, view)
  switch (shape) {
    case 'pairs':
      return onTwoPairs(view, 'signal')
    case 'counts':
      return onTwoPairs(view, 'counts')
    case 'table':
      return onTable(view)
    case 'line':
      return onSlope(view)
    case 'sensor':
      return onRatedOutput(view)
    case undefined:
      return undefined
  }
}

/** A number rounded to whole intervals; an interval of 0 leaves it alone. */
export const roundedTo = (interval: number, reading: number): number => {
  if (!(interval > 0)) return reading
  // An interval kept as a single float is meant as the short decimal it prints as: 0.01, not 0.00999999977.
  const meant = Number(Math.fround(interval).toPrecision(7))
  return Math.round(reading / meant) * meant
}
