import { type RefObject, useEffect, useState } from 'react'
import type { Attention } from './attention.ts'

type Edges = { above: readonly string[]; below: readonly string[] }
const nowhere: Edges = { above: [], below: [] }

/** Tells how many points beyond the edges of a list need a look, and brings the next of them into sight. Rows carry `data-point`. */
export function BeyondEdges({ list, attention }: { list: RefObject<HTMLElement | null>; attention: ReadonlyMap<string, Attention> }) {
  const [beyond, setBeyond] = useState(nowhere)
  useEffect(() => {
    const scroller = list.current
    if (!scroller) return
    const look = () => setBeyond((now) => sameOr(now, beyondEdges(scroller, attention)))
    look()
    const resized = new ResizeObserver(look)
    resized.observe(scroller)
    scroller.addEventListener('scroll', look, { passive: true })
    return () => {
      resized.disconnect()
      scroller.removeEventListener('scroll', look)
    }
  }, [list, attention])

  const show = (id: string | undefined) => {
    if (id !== undefined) rowOf(list.current, id)?.scrollIntoView({ block: 'center' })
  }
  const { above, below } = beyond
  if (above.length === 0 && below.length === 0) return null
  return (
    <span className="beyond">
      <Beyond arrow="↑" count={above.length} where="above" onShow={() => show(above.at(-1))} />
      <Beyond arrow="↓" count={below.length} where="below" onShow={() => show(below[0])} />
    </span>
  )
}

function Beyond({ arrow, count, where, onShow }: { arrow: string; count: number; where: string; onShow: () => void }) {
  if (count === 0) return null
  const words = `${count} ${where}`
  return (
    <button type="button" className="plain-link" onClick={onShow} aria-label={words} title={words}>
      {arrow} {count}
    </button>
  )
}

const rowOf = (scroller: HTMLElement | null, id: string) => scroller?.querySelector<HTMLElement>(`[data-point="${CSS.escape(id)}"]`)

function beyondEdges(scroller: HTMLElement, attention: ReadonlyMap<string, Attention>): Edges {
  const frame = scroller.getBoundingClientRect()
  const top = frame.top + (scroller.querySelector('thead')?.clientHeight ?? 0)
  const above: string[] = []
  const below: string[] = []
  for (const row of scroller.querySelectorAll<HTMLElement>('[data-point]')) {
    const id = row.dataset['point'] ?? ''
    if (!attention.has(id)) continue
    const { top: from, bottom: to } = row.getBoundingClientRect()
    const middle = (from + to) / 2
    if (middle < top) above.push(id)
    if (middle > frame.bottom) below.push(id)
  }
  return { above, below }
}

const sameOr = (now: Edges, next: Edges) => (now.above.join() === next.above.join() && now.below.join() === next.below.join() ? now : next)
