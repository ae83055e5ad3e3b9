import { appliedWords } from '../../../app/applied-words.ts'
import { explainPointWiring, leadsLeave } from '../../../app/bridge/point-wiring.ts'
import { wiringCost } from '../../../app/bridge/wiring-cost.ts'
import { fixedText, signedFixedText } from '../../figures/number-text.ts'
import { Fact, Facts } from '../../parts/facts.tsx'
import type { PointView } from '../../state/point-view.ts'

/** What the leads cost: percent of the span, and at the maximum in units and scale intervals. */
export function WiringCostFacts({ view }: { view: PointView }) {
  const { point, job } = view
  const { wiring, sensors } = point
  const sign = job.decimalSign
  const left = leadsLeave(wiring, sensors.certificates)
  const cost = wiringCost(wiring, sensors.certificates)
  const failed = left.ok ? (cost.ok ? null : cost.failure) : left.failure
  if (failed)
    return (
      <p className="caution" role="status">
        What the leads cost cannot be told, and is not counted. {explainPointWiring(failed)}
      </p>
    )
  if (!left.ok || !cost.ok) return null
  if (left.value.known === 'cable-not-stated')
    return <p className="second">No cable is stated. On four wires it takes its part of the span unseen; here it is not counted.</p>
  if (left.value.known === 'nothing-stated') return <p className="second">No cable and no series part is stated: no loss is counted.</p>
  const words = appliedWords(point)
  const units = (percent: number) => (percent / 100) * Number(point.maximumLoad)
  const both = (percent: number) =>
    `${fixedText(units(percent), 2, sign)} ${point.unit} · ${fixedText(units(percent) / Number(point.scaleInterval), 1, sign)} d`
  return (
    <>
      <Facts>
        {cost.value.parts.map((part) => (
          <Fact key={part.what} label={`${part.what}, ${fixedText(part.ohms, 3, sign)} Ω a lead`}>
            {fixedText(part.lossPercent, 3, sign)} <span className="unit">%</span>
          </Fact>
        ))}
        <Fact label="All leads take off the span" strong>
          <b>{fixedText(cost.value.lossPercent, 3, sign)}</b> <span className="unit">%</span>
        </Fact>
        <Fact label={`At ${words.maximum}`}>{both(cost.value.lossPercent)}</Fact>
        <Fact label="Copper 10 K warmer">
          {signedFixedText(-cost.value.per10K, 3, sign)} <span className="unit">%</span>
        </Fact>
      </Facts>
      <p className="second small">
        Counted in the expected signals and in scaling from the certificate. A calibration with{' '}
        {words.quantity === 'load' ? 'weights' : 'known pressures'} through these leads takes the loss with it, not its drift.
      </p>
    </>
  )
}
