import { intendedOn } from '../../app/job/intended.ts'
import type { Intended, Job, Point, SettingsImage } from '../../app/job/schema.ts'
import { units } from '../../app/quantity/units.ts'
import { type OffAfterwards, scalingAsIntended } from '../../app/scaling/scaling-afterwards.ts'
import { signedFixedText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'
import { implied } from './implied-by-held.ts'

/** What all points of a point's indicator intend for it together. */
export const intendedTogether = ({ job, point }: PointView): Intended =>
  intendedOn(job.points.filter((p) => p.indicatorId === point.indicatorId))

const known = new WeakMap<Point, { job: Job; held: SettingsImage; off: OffAfterwards | undefined }>()

/**
 * How the scaling would contradict the certificates once everything intended is written. Undefined where it fits, and where it is off as it
 * is held and would stay so: that is told of what is held. Computed once for each state of job and settings.
 */
export function offAsIntended(view: PointView): OffAfterwards | undefined {
  const { job, point, profile, state } = view
  const held = state?.held
  if (!held || !profile) return undefined
  const before = known.get(point)
  if (before?.job === job && before.held === held) return before.off
  const found = scalingAsIntended(point, profile, held, intendedTogether(view))
  const now = implied(view)?.differencePercent
  const off = found?.kind === 'off' && now && found.implied.differencePercent.equals(now) ? undefined : found
  known.set(point, { job, held, off })
  return off
}

/** The same in few words, for the chain and for the list. */
export function intendedScalingDoubt(view: PointView): { said: string; phrase: string } | undefined {
  const off = offAsIntended(view)
  if (!off) return undefined
  if (off.kind === 'unit-of-another-kind') {
    const { symbol } = units[off.failure.unit]
    return { said: `as intended in ${symbol}`, phrase: `intended unit ${symbol}` }
  }
  const by = `${signedFixedText(off.implied.differencePercent.valueOf(), 2, view.job.decimalSign)} % off`
  return { said: `as intended ${by}`, phrase: `intended scaling ${by}` }
}
