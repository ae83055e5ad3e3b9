import type { SampleQuantity } from '../../../app/live/sample-ring.ts'

/** One curve. What a ring holds, times `factor`, is shown in `unit`. */
export type Trace = {
  pointId: string
  label: string
  colour: 1 | 2 | 3 | 4
  /** The second four curves of a chart repeat the colours, with other dashes. */
  second?: boolean
  quantity: SampleQuantity
  factor?: number
  unit?: string
  /** Least height of its own value axis, so that noise is not blown up to fill it. */
  leastSpan?: number
}
export type Mark = { at: number; label: string }

const dashes: Record<Trace['colour'], readonly [number[], number[]]> = {
  1: [[], [12, 3]],
  2: [
    [7, 3],
    [7, 3, 7, 6],
  ],
  3: [
    [2, 2],
    [2, 5],
  ],
  4: [
    [9, 3, 2, 3],
    [9, 3, 2, 3, 2, 3],
  ],
}

export const dashOf = (trace: Trace): number[] => dashes[trace.colour][trace.second ? 1 : 0]

/** Colour and dash of the n-th curve of a chart, eight different ones. */
export const strokeOf = (n: number): Pick<Trace, 'colour' | 'second'> => ({
  colour: ([1, 2, 3, 4] as const)[n % 4] ?? 1,
  second: n % 8 > 3,
})
