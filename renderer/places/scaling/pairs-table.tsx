import { appliedWords } from '../../../app/applied-words.ts'
import { units } from '../../../app/quantity/units.ts'
import type { TwoPairs } from '../../../app/scaling/scaling-values.ts'
import { heldPairs } from '../../chain/held-line.ts'
import { decimalsOf, fixedText, numberText, signedFixedText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'
import { Term } from '../../terms/term.tsx'
import { heldOff } from './held-off.ts'

/** The pairs on offer beside what is held, each with what it makes at the maximum. */
export function PairsTable({
  view,
  offers,
  chosen,
  onChoose,
}: {
  view: PointView
  offers: readonly TwoPairs[]
  chosen: number
  onChoose: (index: number) => void
}) {
  const { point, job } = view
  const sign = job.decimalSign
  const held = heldPairs(view)
  const off = heldOff(view)
  return (
    <table className="plain-table pairs">
      <thead>
        <tr>
          <th scope="col">
            lower → upper <Term of="scaling pair">pair</Term>
          </th>
          <th scope="col" className="is-right">
            {offers[0] && units[offers[0].signalUnit].symbol}
          </th>
          <th scope="col" className="is-right">
            at {numberText(point.maximumLoad, sign)} {point.unit}
          </th>
          <th scope="col" className="is-right">
            in d
          </th>
        </tr>
      </thead>
      <tbody>
        {offers.map((o, i) => (
          <tr key={o.upper.reading} className={i === chosen ? 'is-chosen' : ''}>
            <td>
              <span className="pair-choice">
                {offers.length > 1 ? (
                  <input
                    type="radio"
                    name="pair"
                    aria-label={`Pair at ${o.upper.reading} ${units[o.readingUnit].symbol}`}
                    checked={i === chosen}
                    onChange={() => onChoose(i)}
                  />
                ) : null}
                <span>
                  {numberText(o.lower.reading, sign)} → <b>{numberText(o.upper.reading, sign)}</b> {units[o.readingUnit].symbol}
                </span>
              </span>
            </td>
            <td className="is-right">
              {numberText(o.lower.signal, sign)} → <b>{numberText(o.upper.signal, sign)}</b>
            </td>
            <td className="is-right">
              {signedFixedText(o.rounding.atMaximum.units.valueOf(), 3, sign)} {point.unit}
            </td>
            <td className="is-right">{signedFixedText(o.rounding.atMaximum.intervals.valueOf(), 2, sign)}</td>
          </tr>
        ))}
        {held && off !== undefined ? (
          <tr className={Math.abs(off.intervals) > 0.5 ? 'is-attention' : ''}>
            <td>
              held now: {numberText(held.lower.reading, sign)} → {numberText(held.upper.reading, sign)} {point.unit}
            </td>
            <td className="is-right">
              {numberText(held.lower.signal, sign)} → {numberText(held.upper.signal, sign)}
            </td>
            <td className="is-right">
              {signedFixedText(off.units, Math.abs(off.intervals) >= 100 ? decimalsOf(point.scaleInterval) : 2, sign)} {point.unit}
            </td>
            <td className="is-right">{signedFixedText(off.intervals, Math.abs(off.intervals) >= 100 ? 0 : 1, sign)}</td>
          </tr>
        ) : null}
      </tbody>
    </table>
  )
}

/** What the indicator's digits cost, in a sentence. */
export function roundingText(pairs: TwoPairs, view: PointView): string {
  const sign = view.job.decimalSign
  const { atMost } = pairs.rounding
  const d = atMost.intervals.valueOf()
  const cost = d < 0.005 ? 'less than 0.01 d' : `at most ${fixedText(d, 2, sign)} d`
  return `In the digits of this indicator rounding costs ${cost.replace('.', sign)} at ${appliedWords(view.point).maximum}${d < 0.05 ? ': nothing to gain from another pair.' : '. Every pair lies on the same line; the one that rounds best costs least.'}`
}
