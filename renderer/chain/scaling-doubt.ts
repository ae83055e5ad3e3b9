import { fixedText, signedFixedText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'
import { implied } from './implied-by-held.ts'

/** Without a tolerance, a held sensitivity further than this from the certificate's is worth a look. */
const suspiciousPercent = 1

export type ScalingDoubt = { /** In mV/V. */ sensitivity: string /** Off the certificate, with its sign. */; offPercent: string }

/**
 * What the held scaling values imply where the certificates contradict it by more than the tolerance at maximum load;
 * undefined where they agree or nothing can be derived. A reading that such values make is marked wherever it is shown.
 */
export function scalingDoubt(view: PointView): ScalingDoubt | undefined {
  const { point, job } = view
  const found = implied(view)
  if (!found) return undefined
  const off = found.differencePercent.valueOf()
  const allowed = point.tolerance ? (Number(point.tolerance.value) / Number(point.maximumLoad)) * 100 : suspiciousPercent
  if (Math.abs(off) <= allowed) return undefined
  return {
    sensitivity: fixedText(found.sensitivity.valueOf(), 4, job.decimalSign),
    offPercent: signedFixedText(off, 2, job.decimalSign),
  }
}
