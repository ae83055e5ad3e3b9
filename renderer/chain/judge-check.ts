import { asJudged, changedSinceJudged } from '../../app/evaluation/as-judged.ts'
import { evaluateQuickCheck, type QuickCheckResult, superseded } from '../../app/evaluation/quick-check.ts'
import type { Point, QuickCheck } from '../../app/job/schema.ts'
import type { PointView } from '../state/point-view.ts'

/** Verdict, steps and largest error of a check, by what it was judged by. */
export const judgeCheck = (check: QuickCheck, point: Point): QuickCheckResult => evaluateQuickCheck(check, asJudged(check, point))

/** A check made before the scaling values, or what it is judged by, changed tells nothing of the point as it is now. */
export const isSuperseded = (view: PointView, check: QuickCheck): boolean =>
  superseded(check.held, view.state?.held, view.point.channel) === 'yes' || changedSinceJudged(check, view.point).length > 0
