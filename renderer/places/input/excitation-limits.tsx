import type { ReactNode } from 'react'
import { pointSupply } from '../../../app/bridge/point-supply.ts'
import { explainPointWiring } from '../../../app/bridge/point-wiring.ts'
import { volts } from '../../../app/quantity/double.ts'
import { excitationNow } from '../../../app/scaling/expected-chain.ts'
import { channelRegister } from '../../../app/scaling/reading-settings.ts'
import { fixedText, voltsText } from '../../figures/number-text.ts'
import { Fact, Facts } from '../../parts/facts.tsx'
import { Shape } from '../../parts/quantity.tsx'
import type { PointView } from '../../state/point-view.ts'

/** Excitation against what the sensors and the supply stand, with current and power. */
export function ExcitationLimits({ view }: { view: PointView }) {
  const { point, profile, job, state } = view
  const sign = job.decimalSign
  const now = excitationNow(point, profile, state?.held ?? null)
  const notStated = <span className="second">not stated</span>
  if (!now) return <p className="second">The excitation is not known: read the settings, or measure it and type it.</p>
  const shared = profile && channelRegister(profile, 'excitation.voltage', point.channel)?.channel === undefined && profile.channels > 1
  const sharers = shared ? job.points.filter((p) => p.id !== point.id && p.indicatorId === point.indicatorId) : []
  const supply = pointSupply(point, sharers, profile, volts(now.volts.valueOf()))
  const inVolts = (value: number) => (
    <>
      {fixedText(value, 1, sign)} <span className="unit">V</span>
    </>
  )
  const milli = (value: number, unit: string, decimals = 0) => (
    <>
      {fixedText(value * 1000, decimals, sign)} <span className="unit">{unit}</span>
    </>
  )
  if (!supply.ok)
    return (
      <p className="second">
        {voltsText(now.volts.valueOf(), sign)} V, {now.from}. {explainPointWiring(supply.failure)}
      </p>
    )
  const { load, recommended, maximum, supplyCurrent, together, aboveRecommended, leadsCounted } = supply.value
  const over = (which: (typeof load.exceeded)[number], text: ReactNode) =>
    load.exceeded.includes(which) ? (
      <span className="attention">
        <Shape kind="triangle" />
        {text}
      </span>
    ) : (
      text
    )
  return (
    <Facts>
      <Fact label={`Excitation, ${now.from}`}>{over('sensor-excitation', inVolts(now.volts.valueOf()))}</Fact>
      <Fact label="Sensors: recommended, at most">
        {recommended === undefined ? notStated : inVolts(recommended)}, {maximum === undefined ? notStated : inVolts(maximum)}
      </Fact>
      <Fact label={sharers.length > 0 ? `Current, of all ${sharers.length + 1} points together` : 'Current'}>
        {milli(load.current, 'mA', 1)}
        {sharers.length > 0 ? <>, {over('supply-current', milli(together, 'mA', 1))}</> : null}
      </Fact>
      <Fact label="Supply gives">{supplyCurrent === undefined ? notStated : over('supply-current', milli(supplyCurrent, 'mA'))}</Fact>
      <Fact label="Power in each sensor, in all">
        {milli(Math.max(...load.sensorPower), 'mW')}, {milli(load.totalPower, 'mW')}
      </Fact>
      {load.exceeded.length > 0 ? (
        <p className="caution">
          {load.exceeded.includes('sensor-excitation')
            ? 'More than the sensors stand: they warm up, drift and may be lost. Lower the excitation before they are connected. '
            : ''}
          {load.exceeded.includes('supply-current')
            ? 'More current than the supply states: the excitation will sag. Use a lower one or fewer sensors.'
            : ''}
        </p>
      ) : aboveRecommended ? (
        <p className="second small">Above what the certificates recommend, below their maximum: let it warm up before zero is taken.</p>
      ) : null}
      {leadsCounted ? null : <p className="second small">Leads left out: the wiring is not stated enough.</p>}
    </Facts>
  )
}
