/** One sample of a reading in its own unit; `at` in monotonic milliseconds. */
export type TimedValue = { at: number; value: number }

export type Steadiness = { steady: boolean; spread: number; mean: number; count: number; windowMs: number }

/**
 * Is a reading steady? Over the last `windowMs`, largest minus smallest stays inside `band` (same unit), with at least
 * `fewest` samples that fill the window. Scatter in here judges steadiness only: polled, filtered samples are not independent.
 * Source: common practice, no source.
 */
export function steadiness(samples: readonly TimedValue[], windowMs: number, band: number, fewest = 5): Steadiness {
  const last = samples.at(-1)
  const inside = last ? samples.filter((s) => s.at > last.at - windowMs) : []
  const values = inside.map((s) => s.value)
  const spread = values.length > 0 ? Math.max(...values) - Math.min(...values) : Number.POSITIVE_INFINITY
  const mean = values.length > 0 ? values.reduce((a, b) => a + b, 0) / values.length : Number.NaN
  const first = inside[0]
  const fills = first !== undefined && last !== undefined && (samples.length > inside.length || last.at - first.at >= windowMs * 0.8)
  // A hair of float slack: a reading that flickers by exactly one interval is steady.
  return { steady: fills && values.length >= fewest && spread <= band * (1 + 1e-9), spread, mean, count: values.length, windowMs }
}

/** Standard deviation of the samples of the last `windowMs`; null under two samples. Unit of the samples. */
export function noise(samples: readonly TimedValue[], windowMs: number): number | null {
  const values = lately(samples, windowMs)
  return values.length < 2 ? null : scatter(values).deviation
}

/**
 * Whether the samples of the last `windowMs` went from one value to another and did not only scatter: an end lies far outside, or the two
 * halves differ by more than scatter lets them. The standard deviation of such samples is that of the change, no noise.
 * Source: common practice, no source; for independent samples the halves of mere scatter differ by 2/√n standard deviations, one sigma.
 */
export function isChange(samples: readonly TimedValue[], windowMs: number): boolean {
  const values = lately(samples, windowMs)
  const [first, last] = [values[0], values.at(-1)]
  if (first === undefined || last === undefined || values.length < 4) return false
  const { mean, deviation } = scatter(values)
  const half = Math.floor(values.length / 2)
  const apart = Math.abs(scatter(values.slice(half)).mean - scatter(values.slice(0, half)).mean)
  const ends = Math.max(Math.abs(first - mean), Math.abs(last - mean))
  return ends > 3.3 * deviation || apart > Math.max(0.5, 4 / Math.sqrt(values.length)) * deviation
}

function lately(samples: readonly TimedValue[], windowMs: number): number[] {
  const last = samples.at(-1)
  return last ? samples.filter((s) => s.at > last.at - windowMs).map((s) => s.value) : []
}

function scatter(values: readonly number[]): { mean: number; deviation: number } {
  const mean = values.reduce((a, b) => a + b, 0) / values.length
  return { mean, deviation: Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1)) }
}
