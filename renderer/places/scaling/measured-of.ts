import type { Point } from '../../../app/job/schema.ts'

/** What was measured at the point and goes into its scaling. */
export const measuredOf = ({ measured }: Point) => ({
  ...(measured.zeroSignal ? { zeroSignal: measured.zeroSignal } : {}),
  ...(measured.excitation ? { excitation: measured.excitation } : {}),
})
