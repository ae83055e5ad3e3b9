import { useSyncExternalStore } from 'react'
import type { Mark } from './trace.ts'

/** Moments that somebody marked while this page is open. They belong to the time, not to one chart. */
let marks: readonly Mark[] = []
const listeners = new Set<() => void>()

export function addMark(mark: Mark): void {
  marks = [...marks, mark]
  for (const listener of listeners) listener()
}

export function clearMarks(): void {
  marks = []
  for (const listener of listeners) listener()
}

export const useMarks = (): readonly Mark[] =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    () => marks,
  )
