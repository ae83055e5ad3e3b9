import { isOff } from '../../app/scaling/implied.ts'
import { fixedText, signedFixedText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'
import { implied } from './implied-by-held.ts'

export type ScalingDoubt = { /** In mV/V. */ sensitivity: string /** Off the certificate, with its sign. */; offPercent: string }

/**
 * What the held scaling values imply where the certificates contradict it by more than the tolerance at maximum load;
 * undefined where they agree or nothing can be derived. A reading that such values make is marked wherever it is shown.
 */
export function scalingDoubt(view: PointView): ScalingDoubt | undefined {
  const { point, job } = view
  const found = implied(view)
  if (!found) return undefined
  if (!isOff(found, point)) return undefined
  return {
    sensitivity: fixedText(found.sensitivity.valueOf(), 4, job.decimalSign),
    offPercent: signedFixedText(found.differencePercent.valueOf(), 2, job.decimalSign),
  }
}
