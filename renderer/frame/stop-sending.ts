import { useCallback } from 'react'
import { explain } from '../figures/explain.ts'
import { useRequest } from '../state/host-context.tsx'
import { sharedState } from '../state/shared-state.ts'

/** Why sending could not be stopped the last time that somebody asked for it; null where it was. */
export const notStopped = sharedState<string | null>(null)

/** Halts every bus at once. */
export function useStopSending() {
  const { ask, running } = useRequest('sending.stop')
  const stop = useCallback(async () => {
    const stopped = await ask({})
    notStopped.set(stopped.ok ? null : explain(stopped.failure))
  }, [ask])
  return { stop: useCallback(() => void stop(), [stop]), running }
}
