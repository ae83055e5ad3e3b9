import { sharedState } from '../state/shared-state.ts'
import { openBelow } from '../table/below.ts'
import type { IndicatorDraft } from './indicator-form.tsx'

/** What is being done about one bus or indicator, above the two tables. */
export type Work =
  | { on: 'bus-form' | 'scan' | 'listen' | 'new-units'; busId: string | null }
  | { on: 'indicator-form'; indicatorId: string | null; draft: Partial<IndicatorDraft>; foundOn?: string }
  | null

/** Shared, because the empty table leads into it from outside the panel. */
export const busWork = sharedState<Work>(null)

/** Shows the panel of the buses with this in it, whether or not it was open. */
export function openBuses(work: Work): void {
  busWork.set(work)
  openBelow('buses')
}
