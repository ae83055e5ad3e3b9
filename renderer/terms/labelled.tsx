import { Term } from './term.tsx'
import type { TermName } from './terms.ts'

/** A field's label, with its term explained where it has one. */
export function Labelled({ label, term }: { label: string; term: TermName | undefined }) {
  return term ? (
    <Term of={term} inLabel>
      {label}
    </Term>
  ) : (
    label
  )
}
