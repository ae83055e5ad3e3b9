import { useEffect, useState } from 'react'
import type { HostCalls } from '../../app/contract/contract.ts'
import { explain } from '../figures/explain.ts'
import { useRequest, useTopic } from '../state/host-context.tsx'

type Request = HostCalls['points.import']['request']
type Reply = Extract<HostCalls['points.import']['reply'], { ok: true }>['value']
const settleMs = 250

/** Tries an import whenever what is to be imported changes, adding nothing; and adds the points when told to. */
export function useImport(from: Request['from'] | null) {
  const { ask, running, failure } = useRequest('points.import')
  const revision = useTopic('job')?.revision
  const [tried, setTried] = useState<Reply | null>(null)
  const [added, setAdded] = useState<Reply | null>(null)
  const asked = JSON.stringify(from)

  useEffect(() => {
    if (revision === undefined) return
    const wanted = JSON.parse(asked) as Request['from'] | null
    if (wanted === null) return setTried(null)
    let over = false
    const timer = setTimeout(async () => {
      const answer = await ask({ revision, from: wanted, dryRun: true, partly: false })
      if (!over) setTried(answer.ok ? answer.value : null)
    }, settleMs)
    return () => {
      over = true
      clearTimeout(timer)
    }
  }, [asked, revision, ask])

  return {
    tried,
    added,
    running,
    failure: failure && explain(failure),
    async add(partly: boolean) {
      if (revision === undefined || from === null) return
      const answer = await ask({ revision, from, dryRun: false, partly })
      if (answer.ok && answer.value.added) setAdded(answer.value)
    },
  }
}

export type Import = ReturnType<typeof useImport>
