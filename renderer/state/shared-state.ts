import { useSyncExternalStore } from 'react'

export type SharedState<T> = { get(): T; set(next: T | ((now: T) => T)): void; use(): T }

/** What parts of the page share and what outlives them, for as long as the page is open. */
export function sharedState<T>(initial: T): SharedState<T> {
  let now = initial
  const listeners = new Set<() => void>()
  const subscribe = (listener: () => void) => {
    listeners.add(listener)
    return () => listeners.delete(listener)
  }
  const get = () => now
  return {
    get,
    set(next) {
      now = typeof next === 'function' ? (next as (now: T) => T)(now) : next
      for (const listener of listeners) listener()
    },
    use: () => useSyncExternalStore(subscribe, get),
  }
}
