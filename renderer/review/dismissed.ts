import { useSyncExternalStore } from 'react'

let dismissed: ReadonlySet<string> = new Set()
const listeners = new Set<() => void>()

/** Results of writes that somebody has read and put away on this screen. */
export function dismissWrite(result: string): void {
  dismissed = new Set([...dismissed, result])
  for (const listener of listeners) listener()
}

export const useDismissed = () =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    () => dismissed,
  )
