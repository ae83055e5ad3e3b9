import { useSyncExternalStore } from 'react'
import { type PlaceId, placeIds } from '../places/place-ids.ts'

/** Which point and place are open; kept in the address so that a reload comes back to it. */
export type View = { pointId: string; place: PlaceId } | { pointId: null; place: PlaceId }

const listeners = new Set<() => void>()
let current = parse(typeof location === 'undefined' ? '' : location.hash)

if (typeof window !== 'undefined')
  window.addEventListener('hashchange', () => {
    current = parse(location.hash)
    for (const listener of listeners) listener()
  })

function parse(hash: string): View {
  const [pointId, place] = hash.replace(/^#/, '').split('/')
  const known = placeIds.find((id) => id === place) ?? 'reading'
  return pointId ? { pointId, place: known } : { pointId: null, place: known }
}

/** The point that is or was last open. */
let lastPointId = current.pointId
export const lastOpen = (): string | null => lastPointId

/** The place stays when the point changes, and is remembered in the table. */
export function open(view: View): void {
  current = view
  lastPointId = view.pointId ?? lastPointId
  location.hash = view.pointId ? `${view.pointId}/${view.place}` : `/${view.place}`
  for (const listener of listeners) listener()
}

export function useView(): View {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    () => current,
  )
}
