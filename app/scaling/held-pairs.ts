import { type Exact, zero } from '../quantity/exact.ts'
import type { HeldPair } from './scaling-model.ts'

/**
 * From one side of the pairs that an indicator holds to the other, straight between neighbours and onwards beyond the outermost.
 * Undefined where the two pairs it would go through do not differ on the known side.
 */
export function alongPairs(pairs: readonly HeldPair[], known: 'signal' | 'reading', value: Exact): Exact | undefined {
  const wanted = known === 'signal' ? 'reading' : 'signal'
  const rising = [...pairs].sort((a, b) => a[known].compare(b[known]))
  const above = rising.findIndex((p) => p[known].gte(value))
  const upper = above < 0 ? rising.length - 1 : Math.max(1, above)
  const [a, b] = [rising[upper - 1], rising[upper]]
  if (!a || !b) return undefined
  const span = b[known].sub(a[known])
  return span.equals(zero) ? undefined : a[wanted].add(value.sub(a[known]).mul(b[wanted].sub(a[wanted])).div(span))
}
