import type { ReactNode } from 'react'
import { placeOfFailure, type ScalingFailure, unscaledInBrief } from '../../../app/scaling/scaling-failure.ts'

/** What a place shows in the table: its one decisive quantity; and, with the point open, one more line. */
export type ChainCell = {
  most: ReactNode
  detail: ReactNode
  /** What must be known of this place in the table too, quietly; said first in the line below the chain. */
  also?: string | undefined
  tone: 'plain' | 'attention' | 'lost'
  /** A phrase for the list, where somebody has to look: no longer than its one line. */
  phrase?: string
}

/** Why no scaling can be computed, in brief, at the place where that is put right. */
export const whyUnscaled = (failure: ScalingFailure, place: 'load' | 'sensors'): string | undefined =>
  placeOfFailure(failure) === place ? unscaledInBrief(failure) : undefined
