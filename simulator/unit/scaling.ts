import type { Profile } from '../../app/profile/schema.ts'

export type Pair = { signal: number; reading: number }

/** Reading on the line through two pairs; undefined where they have the same signal. */
export const readingOnLine = (lower: Pair, upper: Pair, signal: number): number | undefined => {
  const span = upper.signal - lower.signal
  return span === 0 ? undefined : lower.reading + ((signal - lower.signal) * (upper.reading - lower.reading)) / span
}

/** A number rounded to whole intervals; an interval of 0 leaves it alone. */
export const roundedTo = (interval: number, reading: number): number => {
  if (!(interval > 0)) return reading
  // An interval kept as a single float is meant as the short decimal it prints as: 0.01, not 0.00999999977.
  const meant = Number(Math.fround(interval).toPrecision(7))
  return Math.round(reading / meant) * meant
}

export type ScalingModel = Profile['scaling']['model']

/** Scaling models that the simulator carries out. */
export const imitated: readonly ScalingModel[] = ['two-pairs', 'counts']
