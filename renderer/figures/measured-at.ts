import type { Point } from '../../app/job/schema.ts'
import type { Measured } from '../../app/scaling/propose-scaling.ts'

/** What was measured at the point, absent where it was not. */
export function measuredAt({ measured: { zeroSignal, excitation } }: Point): Measured {
  return { ...(zeroSignal ? { zeroSignal } : {}), ...(excitation ? { excitation } : {}) }
}
