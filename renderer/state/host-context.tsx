import { createContext, type ReactNode, useCallback, useContext, useMemo, useState, useSyncExternalStore } from 'react'
import type { CallName, HostCalls, HostClient, TopicName, TopicValue } from '../../app/contract/contract.ts'
import type { Store } from './store.ts'

type Host = { client: HostClient; store: Store }
const HostContext = createContext<Host | null>(null)

export function HostProvider({ client, store, children }: Host & { children: ReactNode }) {
  const host = useMemo(() => ({ client, store }), [client, store])
  return <HostContext value={host}>{children}</HostContext>
}

export function useHost(): Host {
  const host = useContext(HostContext)
  if (!host) throw new Error('useHost outside HostProvider')
  return host
}

export function useTopic<T extends TopicName>(topic: T, key?: string): TopicValue<T> | undefined {
  const { store } = useHost()
  return useSyncExternalStore(store.subscribe, () => store.topic(topic, key))
}

export function useConnection() {
  const { store } = useHost()
  const connection = useSyncExternalStore(store.subscribe, () => store.connection)
  const unreadable = useSyncExternalStore(store.subscribe, () => store.unreadable)
  return { connection, unreadable }
}

type Failure<N extends CallName> = Extract<HostCalls[N]['reply'], { ok: false }>['failure']
type Value<N extends CallName> = Extract<HostCalls[N]['reply'], { ok: true }>['value']
/** The host was not reached, or did not understand: nothing is known beyond this sentence. */
export type NotReached = { kind: 'not-reached'; why: string }
export type Answer<N extends CallName> = { ok: true; value: Value<N> } | { ok: false; failure: Failure<N> | NotReached }

/** Asks the host; what kept it from answering is a failure like any other. */
export function useAsking() {
  const { client } = useHost()
  return useCallback(
    <N extends CallName>(name: N, request: HostCalls[N]['request']): Promise<Answer<N>> =>
      client.call(name, request).then(
        (reply) => reply as Answer<N>,
        (error: unknown): Answer<N> => ({
          ok: false,
          failure: { kind: 'not-reached', why: error instanceof Error ? error.message : String(error) },
        }),
      ),
    [client],
  )
}

/** One kind of request made from one place on the screen: whether it runs, and what went wrong last. */
export function useRequest<N extends CallName>(name: N) {
  const askHost = useAsking()
  const [running, setRunning] = useState(false)
  const [failure, setFailure] = useState<Failure<N> | NotReached | null>(null)
  const ask = useCallback(
    async (request: HostCalls[N]['request']): Promise<Answer<N>> => {
      setRunning(true)
      setFailure(null)
      const answer = await askHost(name, request)
      setRunning(false)
      if (!answer.ok) setFailure(answer.failure)
      return answer
    },
    [askHost, name],
  )
  return { ask, running, failure, dismiss: useCallback(() => setFailure(null), []) }
}
