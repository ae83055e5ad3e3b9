import type { Point, QuickCheck, Verdict } from '../../app/job/schema.ts'
import { errorOf, inIntervals } from './check-verdict.ts'

/** Verdict of a whole quick check and its largest error in scale intervals; undefined without a step. */
export function judgeCheck(check: QuickCheck, point: Point): { verdict: Verdict; worstInIntervals: number | undefined } {
  const errors = check.steps.map(errorOf)
  const worst = errors.toSorted((a, b) => Math.abs(b) - Math.abs(a))[0]
  const worstInIntervals = worst === undefined ? undefined : inIntervals(worst, point)
  if (worst === undefined || !point.tolerance) return { verdict: 'cannot-be-judged', worstInIntervals }
  return { verdict: Math.abs(worst) <= Number(point.tolerance.value) * (1 + 1e-9) ? 'within' : 'outside', worstInIntervals }
}
