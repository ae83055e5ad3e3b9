import { useCallback } from 'react'
import { explain } from '../figures/explain.ts'
import { useRequest } from '../state/host-context.tsx'
import { sharedState } from '../state/shared-state.ts'

/** What is so, and why, since somebody asked last for sending to be stopped; null where it was. */
export const notStopped = sharedState<{ says: string; why: string } | null>(null)

const patienceMs = 2_000
const unanswered = {
  says: 'Whether sending has stopped is not known.',
  why: 'The host was asked and has not answered yet. Pull the adapter where that is needed.',
}

/** Halts every bus at once. */
export function useStopSending() {
  const { ask, running } = useRequest('sending.stop')
  const stop = useCallback(async () => {
    const late = setTimeout(() => notStopped.set(unanswered), patienceMs)
    const stopped = await ask({})
    clearTimeout(late)
    notStopped.set(stopped.ok ? null : { says: 'Sending was not stopped.', why: explain(stopped.failure) })
  }, [ask])
  return { stop: useCallback(() => void stop(), [stop]), running }
}
