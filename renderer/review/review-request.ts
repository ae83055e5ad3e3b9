import { keptState, withKeys } from '../state/kept-state.ts'

export type Purpose = 'intended' | 'before-last-write' | 'as-found'

/** Which indicators to review, and towards what. */
export type ReviewRequest = { indicatorIds: readonly string[]; purpose: Purpose }

/** The review that is open, the job it belongs to, and indicators whose write it has sent to the host. */
type Opened = { jobId: string; request: ReviewRequest; begun: readonly string[] }

/** A reload of the page comes back to it. */
export const openReview = keptState<Opened | null>('review', null, withKeys<Opened>('jobId', 'request', 'begun'))

export const begunHere = (indicatorId: string): boolean => openReview.get()?.begun.includes(indicatorId) ?? false

/** After a reload, how a write that was begun went on is shown instead of another preview. */
export function noteBegun(indicatorId: string, begun: boolean): void {
  openReview.set((now) => now && { ...now, begun: [...now.begun.filter((id) => id !== indicatorId), ...(begun ? [indicatorId] : [])] })
}
