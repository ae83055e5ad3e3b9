import { useCallback } from 'react'
import { keptState } from '../state/kept-state.ts'

const dismissed = keptState<readonly string[]>('dismissed', [], (found) =>
  Array.isArray(found) && found.every((one) => typeof one === 'string') ? found : undefined,
)

/** Results of writes, and what else was told once, that somebody has read and put away on this screen. */
export const dismiss = (told: string): void => dismissed.set((now) => [...now, told])

export function useIsDismissed(): (told: string) => boolean {
  const now = dismissed.use()
  return useCallback((told) => now.includes(told), [now])
}
