import { asJudged, changedSinceJudged } from '../../app/evaluation/as-judged.ts'
import { evaluateQuickCheck, type QuickCheckResult, superseded } from '../../app/evaluation/quick-check.ts'
import type { QuickCheck } from '../../app/job/schema.ts'
import type { PointView } from '../state/point-view.ts'

/** Verdict, steps and largest error of a check, by what it was judged by. */
export const judgeCheck = ({ job, point }: Pick<PointView, 'job' | 'point'>, check: QuickCheck): QuickCheckResult =>
  evaluateQuickCheck(check, asJudged(check, point), job.decimalSign)

/** A check made before the scaling values, or what it is judged by, changed tells nothing of the point as it is now. */
export const isSuperseded = (view: PointView, check: QuickCheck): boolean =>
  superseded(check.held, view.state?.held, view.point.channel) === 'yes' || changedSinceJudged(check, view.point).length > 0
