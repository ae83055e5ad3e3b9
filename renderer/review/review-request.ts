import type { Purpose } from './use-review.ts'

/** Which indicators to review, and towards what. */
export type ReviewRequest = { indicatorIds: readonly string[]; purpose: Purpose }
