import type { SampleSeries } from '../../app/live/sample-ring.ts'

export type TracePoint = { x: number; y: number }

/**
 * Thins samples to the least and the greatest of each pixel column, in the order they came, and the ends of every line.
 * No spike is lost, whatever the length; of a level only the ends are kept. A hole longer than `gap`, or a value that is no
 * number, breaks the line (y is NaN). Units: `at`, `from`, `to` and `gap` alike; value in any unit.
 */
export function decimate(
  pieces: readonly SampleSeries[],
  window: { from: number; to: number; columns: number; gap: number },
): TracePoint[] {
  const { from, to, columns, gap } = window
  const perColumn = columns / (to - from)
  const line = new Line()
  let before = Number.NaN
  for (const { at, value } of pieces) {
    const end = endBy(at, to)
    for (let i = startFrom(at, from); i < end; ) {
      const x = at[i] as number
      if (x - before > gap) line.break(before)
      before = x
      if (Number.isNaN(value[i])) {
        line.break(x)
        i += 1
        continue
      }
      // Nothing but indices of typed arrays in here: this runs for every sample of an hour with every drawing.
      const nextColumn = from + (Math.floor((x - from) * perColumn) + 1) / perColumn
      let least = i
      let greatest = i
      let j = i + 1
      for (; j < end; j += 1) {
        const here = at[j] as number
        if (here >= nextColumn || here - (at[j - 1] as number) > gap) break
        const y = value[j] as number
        if (y < (value[least] as number)) least = j
        else if (y > (value[greatest] as number)) greatest = j
        else if (Number.isNaN(y)) break
      }
      const [early, late, last] = [Math.min(least, greatest), Math.max(least, greatest), j - 1]
      line.goOn(x, value[i] as number)
      line.to(at[early] as number, value[early] as number)
      line.to(at[late] as number, value[late] as number)
      before = at[last] as number
      line.reaches(before, value[last] as number)
      i = j
    }
  }
  return line.ended()
}

/** Points of a curve as they are drawn, with what its lines begin and end at. */
class Line {
  readonly #points: TracePoint[] = []
  #open = false
  #lastX = 0
  #lastY = 0

  /** The first sample of a line is a point of it. */
  goOn(x: number, y: number): void {
    if (!this.#open) this.to(x, y)
    this.#open = true
  }

  to(x: number, y: number): void {
    const newest = this.#points[this.#points.length - 1]
    if (newest?.y === y) {
      if (newest.x === x) return
      if (this.#points[this.#points.length - 2]?.y === y) {
        newest.x = x
        return
      }
    }
    this.#points.push({ x, y })
  }

  /** A sample that the line has come to, a point of it only where the line ends there. */
  reaches(x: number, y: number): void {
    this.#lastX = x
    this.#lastY = y
  }

  break(x: number): void {
    if (!this.#open) return
    this.to(this.#lastX, this.#lastY)
    this.#open = false
    this.#points.push({ x, y: Number.NaN })
  }

  ended(): TracePoint[] {
    if (this.#open) this.to(this.#lastX, this.#lastY)
    return this.#points
  }
}

function startFrom(at: Float64Array, from: number): number {
  let start = 0
  while (start < at.length && (at[start] as number) < from) start += 1
  return start
}

function endBy(at: Float64Array, to: number): number {
  let end = at.length
  while (end > 0 && (at[end - 1] as number) > to) end -= 1
  return end
}
