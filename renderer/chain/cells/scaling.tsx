import { fixedText, numberText, signedFixedText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'
import { heldSlope } from '../held-line.ts'
import { implied } from '../implied-by-held.ts'
import { intendedScalingDoubt } from '../intended-scaling-doubt.ts'
import { scalingDoubt } from '../scaling-doubt.ts'
import type { ChainCell } from './chain-cell.ts'

export function showScaling(view: PointView): ChainCell {
  const { point, job, state } = view
  const slope = heldSlope(view)
  if (!view.indicator) return { most: '–', detail: 'no indicator', tone: 'plain' }
  const found = implied(view)
  if (slope === undefined && !found) return { most: state?.held ? 'not computed' : 'not read', detail: modelWords(view), tone: 'plain' }
  const doubt = scalingDoubt(view)
  const intended = intendedScalingDoubt(view)
  if (doubt)
    return {
      most: (
        <>
          implies {doubt.sensitivity} <span className="unit">mV/V</span>
        </>
      ),
      detail: intended ? `${doubt.offPercent} % off · ${intended.said}` : `${doubt.offPercent} % off the certificate`,
      tone: 'attention',
      phrase: `scaling ${doubt.offPercent} % off`,
    }
  const most =
    slope !== undefined ? (
      <>
        {numberText(point.maximumLoad, job.decimalSign)} <span className="unit">{point.unit}</span> ={' '}
        {fixedText(slope * Number(point.maximumLoad), 5, job.decimalSign)}
      </>
    ) : (
      <>
        {fixedText(found?.sensitivity.valueOf() ?? Number.NaN, 4, job.decimalSign)} <span className="unit">mV/V</span>
      </>
    )
  if (intended) return { most: intended.said, detail: <>held: {most}</>, tone: 'attention', phrase: intended.phrase }
  return {
    most,
    detail: found ? `${signedFixedText(found.differencePercent.valueOf(), 2, job.decimalSign)} % off the certificate` : 'as held',
    tone: 'plain',
  }
}

/** The scaling model of the profile in words of the trade. */
const modelWords = ({ profile }: PointView) => profile?.scaling.model.replaceAll('-', ' ') ?? ''
