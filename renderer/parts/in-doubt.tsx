import { Shape } from './quantity.tsx'

/** Why a reading that looks trustworthy is not: said in few words, and in a sentence. */
export type Doubt = { said: string; why: string }

/** The mark of a reading in doubt; `said` where there is room for the words. Nothing where there is no doubt. */
export function InDoubt({ of: doubts, said = false }: { of: readonly Doubt[]; said?: boolean }) {
  if (doubts.length === 0) return null
  const words = doubts.map((doubt) => doubt.said).join(' · ')
  return (
    <span className="attention nowrap" title={said ? undefined : doubts.map(({ why }) => why).join('; ')}>
      <Shape kind="triangle" />
      {said ? words : <span className="visually-hidden">{words}: </span>}
    </span>
  )
}
