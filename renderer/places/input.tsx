import { useState } from 'react'
import { certifiedSignalPerLoad } from '../chain/certificate-line.ts'
import { heldExcitation, heldRange } from '../chain/held-line.ts'
import { signalState } from '../chain/reading-text.ts'
import { briefly } from '../figures/explain.ts'
import { fixedText, numberText } from '../figures/number-text.ts'
import { TrendChart } from '../figures/trend/trend-chart.tsx'
import { following, windowText } from '../figures/trend/trend-view.ts'
import { Fact, Facts } from '../parts/facts.tsx'
import { NotMeasured } from '../parts/quantity.tsx'
import { heldValue, type PointView } from '../state/point-view.ts'

/** What arrives from the bridge, and how much of the input it fills. */
const tenMinutes = following(600_000)

export function InputPlace({ view }: { view: PointView }) {
  const { point, job, live, profile } = view
  const sign = job.decimalSign
  const signal = signalState(view)
  const range = heldRange(view)
  const excitation = heldExcitation(view)
  const perLoad = certifiedSignalPerLoad(point)
  const measured = signal?.origin === 'measured' ? signal : null
  const { input } = profile ?? {}
  const [windowMs, setWindowMs] = useState(600_000)
  return (
    <div className="split">
      <div className="split-left">
        <p className="second">
          {point.tag} · signal{measured ? ', measured' : ''}
          {live?.state === 'stale' ? ` · stale, ${briefly(live.because)}` : ''}
        </p>
        <p className={`digits ${live?.state === 'stale' ? 'struck' : ''}`} style={{ fontSize: 56 }}>
          {measured ? numberText(measured.text, sign) : <NotMeasured />} <span className="digits-unit">{measured?.unit}</span>
        </p>
        {signal?.origin === 'derived' ? (
          <p className="caution">
            This indicator gives no signal. From the reading, through the very scaling values in question, it would be{' '}
            {numberText(signal.text, sign)} {signal.unit}: derived, not measured.
          </p>
        ) : null}
        <Facts>
          <Fact label="Input range, held">{heldValue(view, 'input.range') ?? <span className="second">not read</span>}</Fact>
          <Fact label="Filled by the signal">{measured && range ? `${fixedText((measured.value / range) * 100, 1, sign)} %` : '–'}</Fact>
          <Fact label="Excitation, nominal">{heldValue(view, 'excitation.voltage') ?? <span className="second">not read</span>}</Fact>
          <Fact label="Signal of one d">
            {perLoad === undefined
              ? '–'
              : `${fixedText(perLoad * Number(point.scaleInterval) * 1000 * (excitation ?? 1), 3, sign)} ${excitation ? 'µV' : 'µV/V'}`}
          </Fact>
          <Fact label="Least signal for one d">
            {input?.smallestSignalPerInterval ? (
              `${numberText(input.smallestSignalPerInterval.value, sign)} µV`
            ) : (
              <span className="second">not stated</span>
            )}
          </Fact>
          <Fact label="Gain error of the input">
            {input?.gainErrorPercent ? `± ${numberText(input.gainErrorPercent, sign)} %` : <span className="second">not stated</span>}
          </Fact>
          <Fact label="Ratiometric">
            {input ? input.ratiometric ? 'yes, excitation cancels' : 'no, excitation counts' : <span className="second">not stated</span>}
          </Fact>
        </Facts>
      </div>
      <div className="split-right">
        <div className="trend-head">
          <h2>Signal</h2>
          <span className="second">{windowText(windowMs).toLowerCase()}</span>
        </div>
        <TrendChart
          traces={[{ pointId: point.id, label: point.tag, colour: 1, quantity: 'signal' }]}
          unit={signal?.unit ?? 'mV/V'}
          view={tenMinutes}
          onArea={({ from, to }) => setWindowMs(to - from)}
          leastSpan={(perLoad ?? 0.002) * Number(point.scaleInterval) * 20}
          label={`Signal of ${point.tag} over the last ten minutes`}
        />
      </div>
    </div>
  )
}
