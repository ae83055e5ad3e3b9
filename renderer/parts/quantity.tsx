import type { ReactNode } from 'react'
import { numberText } from '../figures/number-text.ts'
import { useDecimalSign } from './decimal-sign.ts'

/** A number and its unit, the unit lighter; the number as decimal text with a point. */
export function Quantity({ value, unit, strong = false }: { value: string; unit?: string | undefined; strong?: boolean }) {
  const sign = useDecimalSign()
  const text = numberText(value, sign)
  return (
    <span className="nowrap">
      {strong ? <b>{text}</b> : text}
      {unit ? <span className="unit"> {unit}</span> : null}
    </span>
  )
}

export type Origin = 'live' | 'stale' | 'not measured' | 'derived' | 'typed' | 'intended' | 'held' | 'simulated' | 'superseded'

/** An empty, dashed place with the words: nothing was measured here. */
export function NotMeasured({ children = 'not measured' }: { children?: ReactNode }) {
  return <span className="empty-place">{children}</span>
}

/** A triangle asks for a look or is undecided, a square says lost: shapes that need no colour. */
export function Shape({ kind }: { kind: 'triangle' | 'square' }) {
  return (
    <svg className="shape" viewBox="0 0 11 10" aria-hidden="true">
      {kind === 'triangle' ? <path d="M5.5 0 11 10H0z" fill="currentColor" /> : <path d="M0 0h10v10H0z" fill="currentColor" />}
    </svg>
  )
}
