import type { Purpose } from './use-reviews.ts'

/** Which indicators to review, and towards what. */
export type ReviewRequest = { indicatorIds: readonly string[]; purpose: Purpose }
