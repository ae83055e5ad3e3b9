import { units } from '../../../app/quantity/units.ts'
import { beyondCapacity } from '../../../app/scaling/sensor-load.ts'
import { decimalsOf, fixedText, numberText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'
import { meanRatedOutput, ownLine } from '../certificate-line.ts'
import { type ChainCell, whyUnscaled } from './chain-cell.ts'

export function showSensors({ point, job }: PointView): ChainCell {
  const { certificates } = point.sensors
  const [first] = certificates
  const mean = meanRatedOutput(point)
  const line = ownLine(point)
  const beyond = line.ok && first ? beyondCapacity(point, line.value.line) : undefined
  const phrase = line.ok ? beyond && `Max is ${beyond.percent} % of capacity` : whyUnscaled(line.failure, 'sensors')
  const wrong = phrase === undefined ? {} : { tone: 'attention' as const, phrase }
  if (!first) return { most: 'no certificate', detail: line.ok ? 'scaled otherwise' : 'nothing to scale by', tone: 'plain', ...wrong }
  const decimals = first.ratedOutput ? decimalsOf(first.ratedOutput.value) : 4
  const [count, size] = [certificates.length, first.capacity]
  return {
    most: size ? (
      <>
        {count > 1 ? `${count} × ` : ''}
        {numberText(size.value, job.decimalSign)} <span className="unit">{units[size.unit].symbol}</span>
        {mean === undefined ? '' : ` · ${fixedText(mean, decimals, job.decimalSign)}`}
      </>
    ) : (
      sensorsInWords(count)
    ),
    detail: phrase ?? (count > 1 ? `${count} certificates` : first.number ? `certificate ${first.number}` : 'certificate, no number'),
    tone: 'plain',
    ...wrong,
  }
}

const sensorsInWords = (count: number) => (count === 1 ? 'one sensor' : `${count} sensors`)
