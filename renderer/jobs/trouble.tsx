import { type Explainable, explain } from '../figures/explain.ts'

/** What the host would not do, and at which file or place in it. */
export function Trouble({ failure }: { failure: Explainable | null }) {
  if (!failure) return null
  const where = failure.kind === 'refused-request' ? failure.where : undefined
  return (
    <p className="lost" role="alert">
      {explain(failure)}
      {where && where !== 'path' ? <span className="where">{where}</span> : null}
    </p>
  )
}
