import { asFoundDue } from '../../app/job/as-found-due.ts'
import type { Point, Visit } from '../../app/job/schema.ts'
import { isScaling } from '../../app/profile/scaling-registers.ts'
import { makeSafe } from '../../app/safety-words.ts'

/** What to see to before these settings are written. Short and to the point; the page shows them once, above the button. */
export function cautions(names: ReadonlySet<string>): string[] {
  const list: string[] = []
  if (movesReading(names)) list.push(`The reading will jump. ${makeSafe}`)
  if (names.has('excitation.voltage'))
    list.push('The excitation changes. Look that every connected sensor stands it; scaling values in mV fit one excitation only.')
  return list
}

/** What a write that moves readings makes impossible afterwards: a check as found of its points in this visit. */
export function lastChance(names: ReadonlySet<string>, visit: Visit | undefined, points: readonly Point[]): string[] {
  const due = movesReading(names) ? asFoundDue(visit, points) : []
  if (due.length === 0) return []
  return [`No check as found of ${due.map((p) => p.tag).join(', ')} in this visit yet: once this is written there can be none.`]
}

const movesReading = (names: ReadonlySet<string>): boolean =>
  [...names].some((n) => isScaling(n) || n.startsWith('reading.') || n.startsWith('input.') || n.startsWith('excitation.'))
