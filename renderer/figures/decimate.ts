import type { SampleSeries } from '../state/sample-ring.ts'

export type TracePoint = { x: number; y: number }

/**
 * Thins samples to at most four a pixel column: its first, least, greatest and last, in the order they came.
 * No spike is lost, whatever the length. A hole longer than `gap`, or a value that is no number, breaks the line (y is NaN).
 * Units: `at`, `from`, `to` and `gap` alike; value in any unit.
 */
export function decimate(
  pieces: readonly SampleSeries[],
  window: { from: number; to: number; columns: number; gap: number },
): TracePoint[] {
  const { from, to, columns, gap } = window
  const perColumn = columns / (to - from)
  const trace: TracePoint[] = []
  let columnAt = -1
  let before = Number.NaN
  const first = { x: 0, y: 0 }
  const least = { x: 0, y: 0 }
  const greatest = { x: 0, y: 0 }
  const last = { x: 0, y: 0 }

  const flush = () => {
    if (columnAt < 0) return
    const [early, late] = least.x <= greatest.x ? [least, greatest] : [greatest, least]
    for (const { x, y } of [first, early, late, last]) {
      const newest = trace[trace.length - 1]
      if (!newest || newest.x !== x || newest.y !== y) trace.push({ x, y })
    }
    columnAt = -1
  }
  const breakLine = (x: number) => {
    flush()
    if (trace.length > 0 && !Number.isNaN(trace[trace.length - 1]?.y)) trace.push({ x, y: Number.NaN })
  }

  for (const { at, value } of pieces) {
    for (let i = 0; i < at.length; i += 1) {
      const x = at[i] as number
      if (x < from || x > to) continue
      const y = value[i] as number
      if (x - before > gap) breakLine(before)
      before = x
      if (Number.isNaN(y)) {
        breakLine(x)
        continue
      }
      const here = Math.min(columns - 1, Math.floor((x - from) * perColumn))
      if (here !== columnAt) {
        flush()
        columnAt = here
        first.x = least.x = greatest.x = x
        first.y = least.y = greatest.y = y
      }
      if (y < least.y) {
        least.x = x
        least.y = y
      }
      if (y > greatest.y) {
        greatest.x = x
        greatest.y = y
      }
      last.x = x
      last.y = y
    }
  }
  flush()
  return trace
}
