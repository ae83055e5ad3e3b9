/** What an undo or redo did. `keeps`: tags of points whose indicator still holds what is no longer intended. */
export function stepMadeWords(way: 'undo' | 'redo', { label, keeps }: { label: string; keeps: readonly string[] }): string {
  const made = `${way === 'undo' ? 'Undone' : 'Done again'}: ${label}.`
  if (keeps.length === 0) return made
  const several = keeps.length > 1
  return `${made} The indicator${several ? 's' : ''} of ${keeps.join(', ')} keep${several ? '' : 's'} what was written until ${several ? 'they are' : 'it is'} written again.`
}
