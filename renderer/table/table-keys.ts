import type { KeyboardEvent } from 'react'
import { pressed } from '../frame/key-table.ts'
import { choice, chooseNone, onlyThese, rangeTo, toggled } from './choice.ts'

const steps: Record<string, readonly [down: number, right: number]> = {
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
  ArrowUp: [-1, 0],
  ArrowDown: [1, 0],
  PageUp: [-10, 0],
  PageDown: [10, 0],
  Home: [0, -100],
  End: [0, 100],
}

/** Arrows move between the cells; Space chooses the row, Shift with an arrow more of them, Ctrl A all, Esc none. Enter opens. */
export function onTableKey(event: KeyboardEvent<HTMLElement>, shown: readonly string[]): void {
  const cell = event.target instanceof HTMLElement ? event.target.closest<HTMLElement>('button.cell') : null
  const id = cell?.closest<HTMLElement>('[data-point]')?.dataset['point']
  if (!cell || id === undefined) return
  if (pressed(event, 'choose')) {
    choice.set((now) => toggled(now, id))
    return event.preventDefault()
  }
  if (pressed(event, 'chooseAll')) {
    choice.set(onlyThese(shown))
    return event.preventDefault()
  }
  if (pressed(event, 'back') && choice.get().ids.length > 0) {
    chooseNone()
    return event.preventDefault()
  }
  const step = steps[event.key]
  if (!step || !(['move', 'far', 'ends'] as const).some((name) => pressed(event, name))) return
  const next = neighbour(event.currentTarget, cell, step)
  if (!next) return
  event.preventDefault()
  const there = next.closest<HTMLElement>('[data-point]')?.dataset['point']
  if (pressed(event, 'chooseMore') && there !== undefined && there !== id)
    choice.set((now) => rangeTo(now.from === null ? { ...now, from: id } : now, there, shown))
  cell.setAttribute('tabindex', '-1')
  next.setAttribute('tabindex', '0')
  next.focus()
}

/** A button is pressed when Space comes up again; in the table Space chooses. */
export function keepSpaceFromPressing(event: KeyboardEvent<HTMLElement>): void {
  if (pressed(event, 'choose') && event.target instanceof HTMLElement && event.target.closest('button.cell')) event.preventDefault()
}

function neighbour(table: HTMLElement, cell: HTMLElement, [down, right]: readonly [number, number]): HTMLElement | undefined {
  const rows = [...table.querySelectorAll('tbody tr[data-point]')].map((row) => [...row.querySelectorAll<HTMLElement>('button.cell')])
  const row = rows.findIndex((cells) => cells.includes(cell))
  const column = rows[row]?.indexOf(cell) ?? 0
  const within = (at: number, count: number) => Math.min(Math.max(at, 0), count - 1)
  const next = rows[within(row + down, rows.length)]
  return next?.[within(column + right, next.length)]
}
