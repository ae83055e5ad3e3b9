import { type Doubt, InDoubt } from './in-doubt.tsx'

export const scalingInDoubt: Doubt = {
  said: 'scaling in doubt',
  why: 'scaling in doubt: the certificates contradict the scaling values held',
}

/** The mark of what wrong scaling values make, whatever load is on. */
export const ScalingInDoubt = ({ said = false }: { said?: boolean }) => <InDoubt of={[scalingInDoubt]} said={said} />
