import { sharedState } from '../state/shared-state.ts'

/** Id of the term that is explained because somebody asked by key. */
export const explained = sharedState<string | null>(null)

/** What belongs to one field or value: its term is looked for here. */
const together = '.edit-field, .share-sum, .facts > div, .meanings > div, .heading-row, tr'

/** Explains the term that has the focus, or that of the field which has it; until another key or a click. */
export function explainFocused(): void {
  const now = document.activeElement
  const term = now?.closest('[data-term]') ?? now?.closest(together)?.querySelector('[data-term]')
  if (!term) return
  explained.set(term.id)
  const end = () => {
    explained.set(null)
    for (const event of ['keydown', 'pointerdown'] as const) window.removeEventListener(event, end, true)
  }
  for (const event of ['keydown', 'pointerdown'] as const) window.addEventListener(event, end, true)
}
