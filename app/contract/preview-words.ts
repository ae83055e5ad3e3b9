import type { WritePreview } from './views.ts'

type Previewed = Pick<WritePreview, 'touches' | 'procedure'>

/** Tags of the points that get the values; of all on the indicator where none of its points does. */
export function writtenTags({ touches }: Pick<WritePreview, 'touches'>): string {
  const theirs = touches.filter((t) => t.written)
  return (theirs.length > 0 ? theirs : touches).map((t) => t.tag).join(', ')
}

/** What becomes of the points that are on the indicator besides those that get the values; one sentence, or none where there are none. */
export function besidesWords({ touches, procedure: { saves, restarts } }: Previewed): string {
  const besides = touches.filter((t) => !t.written)
  if (besides.length === 0 || besides.length === touches.length) return ''
  const tags = besides.map((t) => t.tag).join(', ')
  const what = restarts ? 'Restarting' : 'Saving'
  return saves || restarts
    ? `${what} is of the whole indicator and touches ${tags} too.`
    : `${tags} on the same indicator ${besides.length === 1 ? 'is' : 'are'} left alone.`
}
