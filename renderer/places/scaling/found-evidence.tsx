import { implied } from '../../chain/implied-by-held.ts'
import { fixedText, signedFixedText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'
import { Term } from '../../terms/term.tsx'

/** What the held values imply, and which usual slips would explain it: a suspicion with its evidence. */
export function FoundEvidence({ view }: { view: PointView }) {
  const sign = view.job.decimalSign
  const found = implied(view)
  if (!found) return null
  const off = found.differencePercent.valueOf()
  return (
    <div className="evidence">
      <h2>
        What the values <Term of="held">held</Term> now imply
      </h2>
      <p>
        {fixedText(found.sensitivity.valueOf(), 4, sign)} <span className="unit">mV/V</span> <Term of="sensitivity">at capacity</Term>,
        against {fixedText(found.certified.valueOf(), 4, sign)} <span className="unit">mV/V</span> certified:{' '}
        {signedFixedText(off, 3, sign)} %.
      </p>
      {found.suspicions.length > 0 ? (
        <ul>
          {found.suspicions.map((s) => (
            <li key={s.what} className="small">
              Suspected: {s.what}, which would explain all but {signedFixedText(s.missesPercent.valueOf(), 2, sign)} %.
            </li>
          ))}
        </ul>
      ) : null}
    </div>
  )
}
