import { Button } from '@mantine/core'
import { useMemo } from 'react'
import { appliedWords } from '../../../app/applied-words.ts'
import type { Point } from '../../../app/job/schema.ts'
import type { Profile } from '../../../app/profile/schema.ts'
import { measuredAt, proposeScaling } from '../../../app/scaling/propose-scaling.ts'
import { explainScalingFailure, type ScalingFailure } from '../../../app/scaling/scaling-failure.ts'
import { fixedText, signedFixedText } from '../../figures/number-text.ts'
import { Failed } from '../../parts/failed.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointChoice } from '../../state/use-point-edit.ts'
import { MeasuredLoads } from './measured-loads.tsx'
import { ShuntValues } from './shunt-values.tsx'

type Source = NonNullable<Point['scalingFrom']>

const names: Record<Source, string> = {
  certificate: 'Rated output of the certificates',
  'certificate-table': 'Table of the certificate',
  'measured-loads': 'Measured at known values',
  shunt: 'Shunt, measured against stated',
}
const order: readonly Source[] = ['certificate', 'certificate-table', 'measured-loads', 'shunt']

/** Beside the name of the source the missing part alone says enough. */
const missing = (failure: ScalingFailure) => (failure.kind === 'source-incomplete' ? failure.need : explainScalingFailure(failure))

/** What the line can be computed from, side by side: the span each gives, and its difference from the certificates. */
export function Sources({ view, profile }: { view: PointView; profile: Profile }) {
  const { point, job } = view
  const sign = job.decimalSign
  const { put, running, failure } = usePointChoice(point.id)
  const chosen = point.scalingFrom ?? 'certificate'
  const spans = useMemo(
    () =>
      order.map((source) => {
        const made = proposeScaling({ ...point, scalingFrom: source }, profile, measuredAt(point))
        return { source, made, span: made.ok ? made.value.line.slope.mul(made.value.line.maximumLoad).valueOf() : undefined }
      }),
    [point, profile],
  )
  const certified = spans[0]?.span
  return (
    <section aria-label="Sources" className="sources evidence">
      <h2>Computed from</h2>
      <table className="plain-table">
        <tbody>
          {spans.map(({ source, made, span }) => (
            <tr key={source} className={source === chosen ? 'is-chosen' : ''}>
              <th scope="row">
                {names[source]}
                {made.ok ? null : <span className="second small block">{missing(made.failure)}</span>}
              </th>
              <td className="is-right nowrap">
                {span === undefined ? (
                  <span className="second">–</span>
                ) : (
                  <>
                    {fixedText(span, 5, sign)} <span className="unit">mV/V</span>
                  </>
                )}
              </td>
              <td className="is-right">
                {span === undefined || !certified || source === 'certificate'
                  ? ''
                  : `${signedFixedText((span / certified - 1) * 100, 3, sign)} %`}
              </td>
              <td>
                {source === chosen ? (
                  <b>used</b>
                ) : (
                  <Button size="compact-sm" disabled={!made.ok} loading={running} onClick={() => put({ scalingFrom: source })}>
                    Use
                  </Button>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="second small">span at {appliedWords(point).maximum}, and its difference from the certificates</p>
      <Failed of={failure} />
      <MeasuredLoads view={view} />
      <ShuntValues view={view} />
    </section>
  )
}
