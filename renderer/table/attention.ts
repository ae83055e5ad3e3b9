import { useEffect, useState } from 'react'
import { needsAttention } from '../chain/chain-cells.ts'
import { useHost } from '../state/host-context.tsx'
import { gather } from '../state/point-view.ts'
import type { Store } from '../state/store.ts'

export type Attention = { phrase: string; tone: 'attention' | 'lost' }

/** Counting what needs a look may lag behind the rows themselves. */
const everyMs = 1_000

/** The first thing that needs a look, of each point where there is one; looked at once a second. */
export function useAttention(): ReadonlyMap<string, Attention> {
  const { store } = useHost()
  const [found, setFound] = useState(() => attentionOf(store))
  useEffect(() => {
    const look = () => setFound((now) => sameOr(now, attentionOf(store)))
    look()
    const timer = setInterval(look, everyMs)
    return () => clearInterval(timer)
  }, [store])
  return found
}

function attentionOf(store: Store): ReadonlyMap<string, Attention> {
  const job = store.topic('job')
  const visitId = store.topic('session')?.visitId ?? null
  const found = new Map<string, Attention>()
  for (const point of job?.points ?? []) {
    const view = job && gather(store, job, visitId, point.id)
    const [first] = view ? needsAttention(view) : []
    if (first) found.set(point.id, first)
  }
  return found
}

function sameOr(now: ReadonlyMap<string, Attention>, next: ReadonlyMap<string, Attention>) {
  const same = now.size === next.size && [...next].every(([id, a]) => now.get(id)?.phrase === a.phrase && now.get(id)?.tone === a.tone)
  return same ? now : next
}
