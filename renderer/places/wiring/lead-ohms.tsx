import { judgeOhms, type LeadPair, leadPairs } from '../../../app/bridge/lead-pairs.ts'
import { explainPointWiring } from '../../../app/bridge/point-wiring.ts'
import { fixedText } from '../../figures/number-text.ts'
import { NumberField } from '../../parts/edit-field.tsx'
import { Shape } from '../../parts/quantity.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointEdit } from '../../state/use-point-edit.ts'
import { roleWords } from './lead-roles.ts'

/** What an ohmmeter is to show between each two leads, and what it did show. */
export function LeadOhms({ view }: { view: PointView }) {
  const { point, job } = view
  const { wiring, sensors } = point
  const edit = usePointEdit(point.id)
  const pairs = leadPairs(wiring, sensors.certificates)
  const measured = wiring.measuredOhms ?? {}
  return (
    <>
      <p className="caution">Power off, leads lifted.</p>
      {pairs.ok ? (
        <table className="plain-table ohms-table" aria-label="Ohms between the leads">
          <thead>
            <tr>
              <th scope="col">between</th>
              <th scope="col" className="is-right">
                expected Ω
              </th>
              <th scope="col">measured</th>
              <th scope="col" aria-label="verdict" />
            </tr>
          </thead>
          <tbody>
            {pairs.value.map(({ pair, key, expected }) => {
              const typed = measured[key]
              const verdict = typed === undefined ? null : judgeOhms(expected, Number(typed))
              const { [key]: _gone, ...others } = measured
              return (
                <tr key={key}>
                  <td className="nowrap">{key === 'shield' ? 'shield, any lead' : `${roleWords(pair[0])}, ${roleWords(pair[1])}`}</td>
                  <td className="is-right nowrap">{expectedText(expected, job.decimalSign)}</td>
                  <td>
                    <NumberField
                      bare
                      label={`Measured between ${pair.join(' and ')}`}
                      value={typed ?? ''}
                      unit={null}
                      empty=""
                      edit={edit}
                      change={(value) => ({ wiring: { ...wiring, measuredOhms: { ...measured, [key]: value } } })}
                      clear={() => ({ wiring: { ...wiring, measuredOhms: others } })}
                    />
                  </td>
                  <td className={verdict === 'outside' ? 'attention nowrap' : 'second nowrap'}>
                    {verdict === 'outside' ? <Shape kind="triangle" /> : null}
                    {verdict === 'within' || verdict === 'outside' ? verdict : ''}
                  </td>
                </tr>
              )
            })}
          </tbody>
        </table>
      ) : (
        <p className="second">{explainPointWiring(pairs.failure)}</p>
      )}
      <p className="second small">
        At the indicator’s end of the cable. Measured values are typed. ≈ is made from both resistances of a bridge whose inside is not
        known. Without a stated tolerance nothing is judged.
      </p>
    </>
  )
}

function expectedText(expected: LeadPair['expected'], sign: '.' | ','): string {
  if (expected.kind === 'open') return 'open'
  if (expected.kind === 'not-stated') return 'not stated'
  if (expected.kind === 'at-most') return `to ${fixedText(expected.to, 1, sign)}`
  const about = expected.approximate ? '≈ ' : ''
  return expected.from === expected.to
    ? about + fixedText(expected.from, 1, sign)
    : `${about}${fixedText(expected.from, 1, sign)} to ${fixedText(expected.to, 1, sign)}`
}
