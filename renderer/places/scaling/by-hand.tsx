import { appliedWords } from '../../../app/applied-words.ts'
import { units } from '../../../app/quantity/units.ts'
import type { ScalingProposal } from '../../../app/scaling/propose-scaling.ts'
import { numberText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'

/** What cannot be written over the bus: loads that the indicator learns itself, or values to type at its front panel. */
export function ByHand({ view, proposal }: { view: PointView; proposal: ScalingProposal }) {
  const sign = view.job.decimalSign
  const { captures, entries } = proposal
  const words = appliedWords(view.point)
  return (
    <>
      {captures ? (
        <div className="evidence">
          <h2>This indicator learns its {words.quantity}s</h2>
          <ol className="plain-list">
            {captures.map((c) => (
              <li key={c.command}>
                <span>
                  {c.command === 'capture-lower' ? 'first' : 'then'} {words.quantity === 'load' ? 'put on' : 'apply'}{' '}
                  {numberText(c.apply, sign)} <span className="unit">{units[c.unit].symbol}</span>
                </span>
                <span className="second">
                  expect {numberText(c.expectSignal, sign)} {units[c.signalUnit].symbol}
                </span>
              </li>
            ))}
          </ol>
          <p className="caution small">
            Capture only when it stands still. {words.caution} A wrong {words.quantity} captured is a wrong scale.
          </p>
        </div>
      ) : null}
      {entries ? (
        <div className="evidence">
          <h2>To type at the front panel</h2>
          <ol className="plain-list">
            {entries.list.map((e) => (
              <li key={e.label}>
                <span>{e.label}</span>
                <b>
                  {e.type === null ? 'as it is' : numberText(e.type, sign)}{' '}
                  {e.unit ? <span className="unit">{units[e.unit].symbol}</span> : null}
                </b>
              </li>
            ))}
          </ol>
          {entries.digitsKnown ? null : (
            <p className="second small">The profile does not say how many digits its menu takes: round the last ones as it asks.</p>
          )}
        </div>
      ) : null}
    </>
  )
}
