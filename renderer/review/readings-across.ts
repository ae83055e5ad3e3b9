import { type Exact, exact, toDecimal } from '../../app/quantity/exact.ts'
import { grossExact } from '../chain/gross-now.ts'
import { readingOff } from '../chain/reading-off.ts'
import { decimalsOf, numberText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'

/** What a point read before a write, gross, in its unit; `until` is the time of the last sample that may still be from before its end. */
export type ReadingBefore = { pointId: string; gross: Exact; until: number }

/** Gross readings as they are now; a point whose reading is not known has none. */
export const readingsNow = (views: readonly PointView[]): ReadingBefore[] =>
  views.flatMap((view) => {
    const gross = grossExact(view)
    return gross ? [{ pointId: view.point.id, gross, until: sampledAt(view) }] : []
  })

/** The same once the write has ended: what was sampled so far is not yet the reading after it. */
export const readAnewAfter = (before: readonly ReadingBefore[], views: readonly PointView[]): ReadingBefore[] =>
  before.map((b) => {
    const view = views.find(({ point }) => point.id === b.pointId)
    return view ? { ...b, until: sampledAt(view) } : b
  })

export type ReadingAcross = {
  before: string
  /** Null until a reading is there that was made after the write. */
  now: string | null
  /** The load that is known to be on; null where it is not known. */
  expected: string | null
  /** Outside its tolerance now. */
  off: boolean
}

/** A reading on either side of a write, beside what is expected, each at the decimals of the scale interval. */
export function readingAcross(view: PointView, { gross, until }: ReadingBefore): ReadingAcross {
  const { point, applied, job } = view
  const text = (value: Exact) => numberText(toDecimal(value, decimalsOf(point.scaleInterval)), job.decimalSign)
  const now = sampledAt(view) > until ? grossExact(view) : undefined
  return {
    before: text(gross),
    now: now ? text(now) : null,
    expected: applied ? text(exact(applied.load)) : null,
    off: now !== undefined && readingOff(view) !== undefined,
  }
}

const sampledAt = ({ live }: PointView): number => (live && live.state !== 'never-read' ? live.sample.at : Number.NEGATIVE_INFINITY)
