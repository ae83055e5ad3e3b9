import type { ReactNode } from 'react'

/** Words at the left, what they amount to at the right. */
export function Facts({ children }: { children: ReactNode }) {
  return <dl className="facts">{children}</dl>
}

export function Fact({ label, children, strong = false }: { label: ReactNode; children: ReactNode; strong?: boolean }) {
  return (
    <div className={strong ? 'is-strong' : ''}>
      <dt>{label}</dt>
      <dd>{children}</dd>
    </div>
  )
}
