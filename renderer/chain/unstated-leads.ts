import type { PointWiringFailure } from '../../app/bridge/point-wiring.ts'

/** What of the leads was begun in the form and would else pass for no loss, in three words; undefined where something else is wrong. */
export function unstatedLeads({ kind }: PointWiringFailure): string | undefined {
  if (kind === 'length-not-stated') return 'length not stated'
  return kind === 'ohms-not-stated' ? 'ohms not stated' : undefined
}
