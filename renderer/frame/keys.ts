import { useEffect } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { toggleDistance } from '../distance/distance-open.ts'
import { placeIds } from '../places/place-ids.ts'
import { open, type View } from '../state/navigation.ts'
import { focusFind } from '../table/find-field.tsx'

const typing = (target: EventTarget | null) =>
  target instanceof HTMLElement && (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName))
/** Parts that are moved by the arrow keys themselves. */
const hasOwnKeys = (target: EventTarget | null) => target instanceof Element && target.closest('[data-own-keys]') !== null
const dialogOpen = () => document.querySelector('[role="dialog"]') !== null

/** Keys move and open, and stop; none alters an indicator. */
export function useKeys(job: Job | undefined, view: View, stop: () => void): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key === 'Escape' && event.shiftKey) {
        event.preventDefault()
        event.stopPropagation()
        return stop()
      }
      if (event.key.toLowerCase() === 'k' && (event.ctrlKey || event.metaKey) && !event.shiftKey && !event.altKey && !dialogOpen()) {
        event.preventDefault()
        return focusFind()
      }
      if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey || dialogOpen() || typing(event.target) || !job) return
      if (event.key.startsWith('Arrow') && hasOwnKeys(event.target)) return
      if (event.key === '/') {
        event.preventDefault()
        return focusFind()
      }
      if (event.key === 'd') return toggleDistance()
      if (view.pointId === null) return
      if (event.key === 'Escape') return open({ pointId: null, place: view.place })
      if (!job.points.some((p) => p.id === view.pointId)) return
      const across = { ArrowLeft: -1, ArrowRight: 1 }[event.key]
      const along = { ArrowUp: -1, ArrowDown: 1 }[event.key]
      const place = across === undefined ? undefined : placeIds[placeIds.indexOf(view.place) + across]
      const point = along === undefined ? undefined : job.points[job.points.findIndex((p) => p.id === view.pointId) + along]
      if (place) open({ pointId: view.pointId, place })
      if (point) open({ pointId: point.id, place: view.place })
      if (place || point) event.preventDefault()
    }
    window.addEventListener('keydown', onKey, true)
    return () => window.removeEventListener('keydown', onKey, true)
  }, [job, view, stop])
}
