import { type Explainable, explain } from '../figures/explain.ts'

/** What a request came back with, said where it was made; told at once to whoever listens to the screen. */
export function Failed({ of, small = false }: { of: Explainable | null; small?: boolean }) {
  return of ? (
    <p className={small ? 'lost small' : 'lost'} role="alert">
      {explain(of)}
    </p>
  ) : null
}
