import { useEffect } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { toggleDistance } from '../distance/distance-open.ts'
import { placeIds } from '../places/place-ids.ts'
import { open, type View } from '../state/navigation.ts'
import { focusFind } from '../table/find-field.tsx'
import { explainFocused } from '../terms/explained.ts'
import { focusHome } from './keep-focus.ts'
import { type KeyName, pressed } from './key-table.ts'

const typing = (target: EventTarget | null) =>
  target instanceof HTMLElement &&
  (target.isContentEditable || (/^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName) && target.getAttribute('type') !== 'checkbox'))
/** Parts that are moved by the arrow keys themselves. */
const hasOwnKeys = (target: EventTarget | null) => target instanceof Element && target.closest('[data-own-keys]') !== null
/** A panel closes by Esc itself, whatever has the focus in it. */
const inPanel = (target: EventTarget | null) => target instanceof Element && target.closest('.panel') !== null
const dialogOpen = () => document.querySelector('[role="dialog"]') !== null

/** The focus goes along, so that Enter and Tab mean what is open. */
function goTo(view: View): void {
  open(view)
  focusHome()
}

/** As a press on its button: nothing where there is none or it is not armed. */
const takeReading = () => document.querySelector<HTMLButtonElement>('button.take-reading')?.click()

export type KeyActions = Record<'stop' | 'help' | 'undo' | 'redo', () => void>

/** Keys move and open, take back and stop; none alters an indicator. */
export function useKeys(job: Job | undefined, view: View, does: KeyActions): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const act = (run: () => void) => {
        event.preventDefault()
        run()
      }
      if (pressed(event, 'stop')) {
        event.stopPropagation()
        return act(does.stop)
      }
      if (event.defaultPrevented || dialogOpen() || !job) return
      if (pressed(event, 'explain')) return act(explainFocused)
      // Ctrl K also out of a field, where the other key for it is a letter of the text.
      if ((event.ctrlKey || event.metaKey) && pressed(event, 'find')) return act(focusFind)
      if (typing(event.target)) return
      const found = (['find', 'help', 'undo', 'redo', 'distance'] satisfies KeyName[]).find((name) => pressed(event, name))
      if (found) return act({ ...does, find: focusFind, distance: toggleDistance }[found])
      if (view.pointId === null || inPanel(event.target)) return
      if (pressed(event, 'back')) return goTo({ pointId: null, place: view.place })
      if (hasOwnKeys(event.target) || !job.points.some((p) => p.id === view.pointId)) return
      if (pressed(event, 'take')) return act(takeReading)
      const step = ['ArrowLeft', 'ArrowUp'].includes(event.key) ? -1 : 1
      const place = pressed(event, 'place') ? placeIds[placeIds.indexOf(view.place) + step] : undefined
      const point = pressed(event, 'point') ? job.points[job.points.findIndex((p) => p.id === view.pointId) + step] : undefined
      if (place) act(() => goTo({ pointId: view.pointId, place }))
      if (point) act(() => goTo({ pointId: point.id, place: view.place }))
    }
    window.addEventListener('keydown', onKey, true)
    return () => window.removeEventListener('keydown', onKey, true)
  }, [job, view, does])
}
