import { useMemo, useState } from 'react'
import { appliedWords } from '../../app/applied-words.ts'
import { offersOf } from '../../app/scaling/intended-offer.ts'
import { measuredAt, proposeScaling } from '../../app/scaling/propose-scaling.ts'
import { explainScalingFailure } from '../../app/scaling/scaling-failure.ts'
import { Scroller } from '../parts/scroller.tsx'
import type { PointView } from '../state/point-view.ts'
import { asIntendedWords } from './scaling/as-intended.ts'
import { ByHand } from './scaling/by-hand.tsx'
import { CertificateSide } from './scaling/certificate-side.tsx'
import { EntrySheet } from './scaling/entry-sheet.tsx'
import { ErrorAlongLoad } from './scaling/error-along-load.tsx'
import { FoundEvidence } from './scaling/found-evidence.tsx'
import { OfferedValues } from './scaling/offered-values.tsx'
import { otherExcitationWords, takenAtOtherWords } from './scaling/other-excitation-words.ts'
import { PairsTable, roundingText } from './scaling/pairs-table.tsx'
import { PutIntoIntended } from './scaling/put-into-intended.tsx'
import { Sources } from './scaling/sources.tsx'

/** From the certificates to the values this indicator is to hold, with what rounding costs; and what it holds now. */
export function ScalingPlace({ view }: { view: PointView }) {
  const { point, profile } = view
  const proposal = useMemo(() => (profile ? proposeScaling(point, profile, measuredAt(point)) : null), [point, profile])
  const [chosen, setChosen] = useState(0)
  if (!profile || !proposal) return <p className="second">This point has no indicator, so there are no scaling values to choose.</p>
  if (!proposal.ok)
    return (
      <div className="columns">
        <Scroller className="wide">
          <Doubts view={view} offered={{}} />
          <h2>No scaling can be computed</h2>
          <p className="caution">{explainScalingFailure(proposal.failure)}</p>
          <Sources view={view} profile={profile} />
        </Scroller>
      </div>
    )
  const { value } = proposal
  const offers = offersOf(value)
  const pairs = offers[chosen] ?? value.pairs
  const offered = pairs.values
  return (
    <div className="columns scaling">
      <CertificateSide view={view} proposal={value} />
      <Scroller className="middle">
        <Doubts view={view} offered={offered} />
        <h2>What this indicator can hold</h2>
        <PairsTable view={view} offers={offers} chosen={chosen} onChoose={setChosen} />
        <p className="second">{roundingText(pairs, view)}</p>
        {Object.keys(offered).length > 0 ? (
          <>
            <PutIntoIntended view={view} values={offered} />
            <OfferedValues view={view} values={offered} />
          </>
        ) : null}
        <details className="figures">
          <summary>Why this range and excitation</summary>
          <p className="second">{value.input.why}</p>
          <p className="second">{value.excitationWhy}</p>
        </details>
        <ByHand view={view} proposal={value} />
        <div className="button-row">
          <EntrySheet point={point} />
          <span className="second">to type these values by hand, on paper</span>
        </div>
        <FoundEvidence view={view} />
        <Sources view={view} profile={profile} />
      </Scroller>
      <section className="plot-side">
        <h2>Error along the {appliedWords(view.point).quantity}</h2>
        <ErrorAlongLoad view={view} proposal={value} pairs={pairs} />
      </section>
    </div>
  )
}

/** Settings that are only intended and that the scaling would not fit; signals taken at another excitation. */
function Doubts({ view, offered }: { view: PointView; offered: Record<string, string> }) {
  const intended = asIntendedWords(view, offered)
  const excitation = [otherExcitationWords(view), takenAtOtherWords(view)].filter((words) => words !== undefined)
  return (
    <>
      {intended ? (
        <p className="caution">
          {intended.implies} {intended.todo}
        </p>
      ) : null}
      {excitation.map((words) => (
        <p key={words} className="caution">
          {words}
        </p>
      ))}
    </>
  )
}
