import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { decimate } from '../../../renderer/figures/decimate.ts'

/** As one piece, or cut in two as a ring gives it once it has run over. */
const series = (values: readonly number[], everyMs = 50, cut = values.length) => {
  const at = Float64Array.from(values, (_, i) => i * everyMs)
  const value = Float64Array.from(values)
  return [
    { at: at.subarray(0, cut), value: value.subarray(0, cut) },
    { at: at.subarray(cut), value: value.subarray(cut) },
  ]
}

describe('decimate', () => {
  it('keeps a spike of one sample among twelve thousand', () => {
    const values = new Array<number>(12_000).fill(100)
    values[7_321] = 137.4
    values[7_322] = 12.5

    const trace = decimate(series(values), { from: 0, to: 600_000, columns: 500, gap: 2_000 })

    expect(trace.map((p) => p.y)).toContain(137.4)
    expect(trace.map((p) => p.y)).toContain(12.5)
  })

  it('gives at most two values a pixel column, and the ends', () => {
    const values = Array.from({ length: 12_000 }, (_, i) => Math.sin(i))

    expect(decimate(series(values), { from: 0, to: 600_000, columns: 500, gap: 2_000 }).length).toBeLessThanOrEqual(1_002)
  })

  it('keeps of a level its ends alone, and where it is left and come back to', () => {
    const values = new Array<number>(12_000).fill(100)
    values[7_321] = 137.4

    const trace = decimate(series(values), { from: 0, to: 600_000, columns: 500, gap: 2_000 })

    const column = 600_000 / 500
    expect(trace.map((p) => p.y)).toEqual([100, 100, 137.4, 100, 100])
    expect(trace.map((p) => p.x).toSpliced(1, 3)).toEqual([0, 11_999 * 50])
    expect(Math.abs((trace[1]?.x ?? 0) - 7_321 * 50)).toBeLessThan(2 * column)
    expect(trace[2]?.x).toBe(7_321 * 50)
    expect(Math.abs((trace[3]?.x ?? 0) - 7_321 * 50)).toBeLessThan(2 * column)
  })

  it('begins and ends each line with its first and last sample', () => {
    const values = [5, 1, 9, 1, 9, 4, Number.NaN, 6, 1, 9, 1, 9, 7]

    const trace = decimate(series(values), { from: 0, to: 650, columns: 1, gap: 2_000 })

    const lines = [
      trace.slice(
        0,
        trace.findIndex((p) => Number.isNaN(p.y)),
      ),
      trace.slice(trace.findIndex((p) => Number.isNaN(p.y)) + 1),
    ]
    expect(lines.map((points) => [points[0], points.at(-1)])).toEqual([
      [
        { x: 0, y: 5 },
        { x: 250, y: 4 },
      ],
      [
        { x: 350, y: 6 },
        { x: 600, y: 7 },
      ],
    ])
  })

  it('loses neither the least nor the greatest value of any series, and keeps the order of time', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ noNaN: true, min: -1e6, max: 1e6 }), { minLength: 1, maxLength: 400 }),
        fc.integer({ min: 1, max: 60 }),
        fc.nat({ max: 400 }),
        (values, columns, cut) => {
          const trace = decimate(series(values, 50, Math.min(cut, values.length)), { from: 0, to: values.length * 50, columns, gap: 2_000 })
          const shown = trace.map((p) => p.y)

          expect(Math.max(...shown)).toBe(Math.max(...values))
          expect(Math.min(...shown)).toBe(Math.min(...values))
          expect(trace.map((p) => p.x)).toEqual(trace.map((p) => p.x).toSorted((a, b) => a - b))
        },
      ),
    )
  })

  it('shows the samples themselves where there are fewer than pixels', () => {
    const trace = decimate(series([1, 3, 2]), { from: 0, to: 150, columns: 300, gap: 2_000 })

    expect(trace).toEqual([
      { x: 0, y: 1 },
      { x: 50, y: 3 },
      { x: 100, y: 2 },
    ])
  })

  it('breaks the line where there was no number, and over a hole longer than the gap', () => {
    const at = Float64Array.of(0, 50, 100, 150, 5_000)
    const value = Float64Array.of(1, Number.NaN, 2, 3, 4)

    const trace = decimate([{ at, value }], { from: 0, to: 6_000, columns: 600, gap: 2_000 })

    expect(trace.map((p) => p.y)).toEqual([1, Number.NaN, 2, 3, Number.NaN, 4])
  })

  it('leaves out what lies outside the window', () => {
    const trace = decimate(series([9, 1, 2, 9]), { from: 50, to: 100, columns: 10, gap: 2_000 })

    expect(trace.map((p) => p.y)).toEqual([1, 2])
  })
})
