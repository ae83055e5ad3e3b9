import { useCallback } from 'react'
import { useRequest } from '../state/host-context.tsx'

/** Halts every bus at once. */
export function useStopSending() {
  const { ask, running, failure } = useRequest('sending.stop')
  const stop = useCallback(() => void ask({}), [ask])
  return { stop, running, failure }
}
