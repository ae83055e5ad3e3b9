import type { ReactNode } from 'react'

/** What a place shows in the table: its one decisive quantity; and, with the point open, one more line. */
export type ChainCell = {
  most: ReactNode
  detail: ReactNode
  tone: 'plain' | 'attention' | 'lost'
  /** A phrase for the list, where somebody has to look: no longer than its one line. */
  phrase?: string
}
