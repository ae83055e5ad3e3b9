import { useSyncExternalStore } from 'react'
import type { IndicatorView } from '../../app/contract/views.ts'
import { useHost } from './host-context.tsx'

export type KnownIndicator = { id: string; state: IndicatorView | undefined }

export function useIndicators(ids: readonly string[]): KnownIndicator[] {
  const { store } = useHost()
  // The parts keep their identity while they do not change; joined anew on every change of the store.
  const version = useSyncExternalStore(store.subscribe, () => ids.map((id) => identityOf(store.topic('indicator', id))).join())
  return version === '' ? [] : ids.map((id) => ({ id, state: store.topic('indicator', id) }))
}

const identities = new WeakMap<object, number>()
let lastIdentity = 0
function identityOf(value: object | undefined): number {
  if (!value) return 0
  const known = identities.get(value)
  if (known !== undefined) return known
  lastIdentity += 1
  identities.set(value, lastIdentity)
  return lastIdentity
}
