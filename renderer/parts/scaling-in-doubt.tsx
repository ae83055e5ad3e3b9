import { Shape } from './quantity.tsx'

/** The mark of a reading that scaling values make which the certificates contradict; `said` where there is room for the words. */
export function ScalingInDoubt({ said = false }: { said?: boolean }) {
  return (
    <span className="attention nowrap" title={said ? undefined : 'scaling in doubt: the certificates contradict the scaling values held'}>
      <Shape kind="triangle" />
      {said ? 'scaling in doubt' : <span className="visually-hidden">scaling in doubt: </span>}
    </span>
  )
}
