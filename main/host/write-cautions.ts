import { isScaling } from '../../app/profile/scaling-registers.ts'

/** What to see to before these settings are written. Short and to the point; the page shows them once, above the button. */
export function cautions(names: ReadonlySet<string>): string[] {
  const list: string[] = []
  if ([...names].some((n) => isScaling(n) || n.startsWith('reading.') || n.startsWith('input.') || n.startsWith('excitation.')))
    list.push('The reading will jump. Loop in manual, outputs and trips isolated, nobody under the load.')
  if (names.has('excitation.voltage')) list.push('The excitation changes: it must not exceed what any connected sensor stands.')
  list.push('Local rules and licensed practice come first.')
  return list
}
