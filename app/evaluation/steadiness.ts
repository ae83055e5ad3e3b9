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
  const last = samples.at(-1)
  const values = last ? samples.filter((s) => s.at > last.at - windowMs).map((s) => s.value) : []
  if (values.length < 2) return null
  const mean = values.reduce((a, b) => a + b, 0) / values.length
  return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1))
}
