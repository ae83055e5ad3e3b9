import { useCallback, useEffect, useRef, useState } from 'react'
import type { HostCalls } from '../../app/contract/contract.ts'
import { explain } from '../figures/explain.ts'
import { useHost, useTopic } from '../state/host-context.tsx'

export type Block = Omit<HostCalls['registers.view']['request'], 'again'>
export type Seen = { block: Block; words: readonly (number | null)[]; at: string }

/** Slow on purpose: people look at it, and the bus has other work. */
const everyMs = 2_000

/** Words of a block, looked at again every two seconds while `follow` says so and sending is not stopped. */
export function useRegisters(follow: boolean) {
  const { client } = useHost()
  const stopped = useTopic('session')?.stopped ?? false
  const [seen, setSeen] = useState<Seen | null>(null)
  const [failure, setFailure] = useState<string | null>(null)
  const [running, setRunning] = useState(false)
  const turn = useRef(0)

  const look = useCallback(
    async (block: Block, again = false) => {
      turn.current += 1
      const mine = turn.current
      if (!again) setRunning(true)
      const answer = await client.call('registers.view', { ...block, again }).catch((error: unknown) => ({
        ok: false as const,
        failure: { kind: 'not-reached' as const, why: error instanceof Error ? error.message : String(error) },
      }))
      // A newer look is under way: this one is of another block or too late.
      if (mine !== turn.current) return
      setRunning(false)
      setFailure(answer.ok ? null : explain(answer.failure))
      if (answer.ok) setSeen({ block, ...answer.value })
      else if (!again) setSeen(null)
    },
    [client],
  )

  useEffect(() => {
    if (!follow || !seen || stopped) return
    const timer = setTimeout(() => {
      if (!document.hidden) void look(seen.block, true)
      else setSeen({ ...seen })
    }, everyMs)
    return () => clearTimeout(timer)
  }, [follow, seen, stopped, look])

  const again = useCallback(() => {
    if (seen) void look(seen.block, true)
  }, [look, seen])
  return { seen, failure, running, look, again }
}
