import type { SampleSeries } from '../state/sample-ring.ts'

export type TracePoint = { x: number; y: number }

/**
 * Thins a series to at most four values a pixel column: its first, least, greatest and last, in the order they came.
 * No spike is lost, whatever the length. A hole longer than `gap`, or a value that is no number, breaks the line (y is NaN).
 * Units: `at`, `from`, `to` and `gap` alike; value in any unit.
 */
export function decimate(series: SampleSeries, window: { from: number; to: number; columns: number; gap: number }): TracePoint[] {
  const { from, to, columns, gap } = window
  const trace: TracePoint[] = []
  let column: number[] = []
  let columnAt = -1
  let before = Number.NaN

  const flush = () => {
    if (column.length === 0) return
    let least = column[0] as number
    let greatest = least
    for (const i of column) {
      if ((series.value[i] as number) < (series.value[least] as number)) least = i
      if ((series.value[i] as number) > (series.value[greatest] as number)) greatest = i
    }
    const kept = new Set([column[0] as number, Math.min(least, greatest), Math.max(least, greatest), column[column.length - 1] as number])
    for (const i of kept) trace.push({ x: series.at[i] as number, y: series.value[i] as number })
    column = []
  }
  const breakLine = (x: number) => {
    flush()
    if (trace.length > 0 && !Number.isNaN(trace[trace.length - 1]?.y)) trace.push({ x, y: Number.NaN })
  }

  for (let i = 0; i < series.at.length; i += 1) {
    const at = series.at[i] as number
    if (at < from || at > to) continue
    if (at - before > gap) breakLine(before)
    before = at
    if (Number.isNaN(series.value[i])) {
      breakLine(at)
      continue
    }
    const here = Math.min(columns - 1, Math.floor(((at - from) / (to - from)) * columns))
    if (here !== columnAt) flush()
    columnAt = here
    column.push(i)
  }
  flush()
  return trace
}
