import { isScaling } from '../../app/profile/scaling-registers.ts'
import { makeSafe } from '../../app/safety-words.ts'

/** What to see to before these settings are written. Short and to the point; the page shows them once, above the button. */
export function cautions(names: ReadonlySet<string>): string[] {
  const list: string[] = []
  if ([...names].some((n) => isScaling(n) || n.startsWith('reading.') || n.startsWith('input.') || n.startsWith('excitation.')))
    list.push(`The reading will jump. ${makeSafe}`)
  if (names.has('excitation.voltage'))
    list.push('The excitation changes. Look that every connected sensor stands it; scaling values in mV fit one excitation only.')
  return list
}
