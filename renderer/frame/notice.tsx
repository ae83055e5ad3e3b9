import type { ReactNode } from 'react'

/** A line below the header: what is so and what can be done. */
export function Notice({ tone, children }: { tone: 'plain' | 'attention' | 'lost'; children: ReactNode }) {
  return (
    <div className={`notice ${tone === 'plain' ? '' : `is-${tone}`}`} role={tone === 'plain' ? undefined : 'status'}>
      {children}
    </div>
  )
}
