import { evaluateQuickCheck, type QuickCheckResult, superseded } from '../../app/evaluation/quick-check.ts'
import type { Point, QuickCheck } from '../../app/job/schema.ts'
import type { PointView } from '../state/point-view.ts'

/** Verdict, steps and largest error of a check, as the domain evaluates it. */
export const judgeCheck = (check: QuickCheck, point: Point): QuickCheckResult => evaluateQuickCheck(check, point)

/** A check made before the scaling values changed tells nothing of the point as it is now. */
export const isSuperseded = (view: PointView, check: QuickCheck): boolean =>
  superseded(check.held, view.state?.held, view.point.channel) === 'yes'
