import { Button } from '@mantine/core'
import { useState } from 'react'
import { certifiedSignalPerLoad } from '../chain/certificate-line.ts'
import { chainCells } from '../chain/chain-cells.tsx'
import { heldExcitation, heldLine } from '../chain/held-line.ts'
import { readingState, signalState } from '../chain/reading-text.ts'
import { clockText, decimalsOf, fixedText, numberText } from '../figures/number-text.ts'
import { type Mark, TrendChart, windowText } from '../figures/trend-chart.tsx'
import { LargeDigits } from '../parts/large-digits.tsx'
import { NotMeasured } from '../parts/quantity.tsx'
import { useHost, useTopic } from '../state/host-context.tsx'
import { open } from '../state/navigation.ts'
import type { PointView } from '../state/point-view.ts'
import type { SampleQuantity } from '../state/sample-ring.ts'
import { BenchLoad } from './bench-load.tsx'
import { IndicatorCommands } from './commands.tsx'

/** The reading beside the raw signal, live, with what each means; and the last ten minutes. */
export function ReadingPlace({ view }: { view: PointView }) {
  const { point } = view
  const state = readingState(view)
  const scaling = chainCells.scaling(view)
  return (
    <div className="split">
      <div className="split-left">
        <p className={state.tone === 'plain' ? 'second' : state.tone}>
          {point.tag} {point.name} · {state.kind} · {state.word}
        </p>
        <LargeDigits reading={state.reading} unit={state.unit} struck={state.struck} />
        {scaling.tone === 'attention' ? (
          <p className="caution small">
            Scaled wrongly? The indicator’s scaling {scaling.most}, {scaling.detail}.{' '}
            <button type="button" className="plain-link" onClick={() => open({ pointId: point.id, place: 'scaling' })}>
              Look at the evidence
            </button>
          </p>
        ) : null}
        <div className="below-digits">
          <Meanings view={view} />
          <IndicatorCommands view={view} />
          <BenchLoad view={view} />
        </div>
      </div>
      <Trend view={view} />
    </div>
  )
}

/** The same moment in other terms, each with where it comes from. */
function Meanings({ view }: { view: PointView }) {
  const { point, job, live } = view
  const sign = job.decimalSign
  const signal = signalState(view)
  const excitation = heldExcitation(view)
  const perLoad = certifiedSignalPerLoad(point)
  const line = heldLine(view)
  const measured = signal?.origin === 'measured' ? signal : null
  const old = live?.state === 'stale' ? 'struck' : undefined
  const noise = live?.state === 'fresh' ? live.noiseSignal : null
  const meant = measured && perLoad && line ? (measured.value - line.lower.signal) / perLoad + line.lower.reading : undefined
  const decimals = decimalsOf(point.scaleInterval)
  const volts = measured?.unit === 'mV/V' ? excitation : undefined
  return (
    <dl className="meanings">
      <div>
        <dt>{signal ? `Signal, ${signal.origin}` : 'Signal'}</dt>
        <dd>
          {measured ? (
            <span className={old}>{numberText(measured.text, sign)}</span>
          ) : signal ? (
            <span className="derived">{numberText(signal.text, sign)}</span>
          ) : (
            <NotMeasured />
          )}{' '}
          <span className="digits-unit">{signal?.unit}</span>
        </dd>
      </div>
      <div>
        <dt>{volts === undefined ? 'mV' : `mV, by ${numberText(String(volts), sign)} V nominal`}</dt>
        <dd>
          {measured && volts !== undefined ? (
            <span className={old}>{fixedText(measured.value * volts, 3, sign)}</span>
          ) : (
            <NotMeasured>not known</NotMeasured>
          )}{' '}
          {measured && volts !== undefined ? <span className="digits-unit">mV</span> : null}
        </dd>
      </div>
      <div>
        <dt>By certificate it means</dt>
        <dd>
          {meant === undefined ? <NotMeasured>not known</NotMeasured> : <span className={old}>{fixedText(meant, decimals, sign)}</span>}{' '}
          {meant === undefined ? null : <span className="digits-unit">{point.unit}</span>}
        </dd>
      </div>
      <div>
        <dt>Noise, last 5 s</dt>
        <dd>
          {noise === null || !measured ? (
            <NotMeasured />
          ) : (
            <>
              {fixedText(noise * 1000 * (volts ?? 1), 2, sign)}{' '}
              <span className="digits-unit">
                {volts === undefined && measured.unit === 'mV/V' ? 'µV/V' : 'µV'}
                {perLoad === undefined ? '' : ` = ${fixedText(noise / perLoad / Number(point.scaleInterval), 2, sign)} d`}
              </span>
            </>
          )}
        </dd>
      </div>
    </dl>
  )
}

function Trend({ view }: { view: PointView }) {
  const { point } = view
  const { store } = useHost()
  const session = useTopic('session')
  const [quantity, setQuantity] = useState<SampleQuantity>('reading')
  const [frozen, setFrozen] = useState(false)
  const [windowMs, setWindowMs] = useState(600_000)
  const [marks, setMarks] = useState<readonly Mark[]>([])
  const signalUnit = signalState(view)?.unit ?? 'mV/V'
  const perLoad = certifiedSignalPerLoad(point) ?? 0.002
  const interval = Number(point.scaleInterval)
  const mark = () => {
    const at = store.ring(point.id).newest
    if (Number.isNaN(at)) return
    const label = session ? clockText(new Date(Date.parse(session.anchor) + at)).slice(0, 8) : `mark ${marks.length + 1}`
    setMarks((now) => [...now, { at, label }])
  }
  return (
    <section className="split-right" aria-label="Trend">
      <div className="trend-head">
        <h2>{windowText(windowMs)}</h2>
        <span className="spring" />
        <Button aria-pressed={quantity === 'reading'} onClick={() => setQuantity('reading')}>
          {point.unit}
        </Button>
        <Button aria-pressed={quantity === 'signal'} onClick={() => setQuantity('signal')}>
          {signalUnit}
        </Button>
        <Button aria-pressed={frozen} onClick={() => setFrozen((now) => !now)}>
          {frozen ? 'Chart frozen' : 'Freeze chart'}
        </Button>
        <Button onClick={mark}>Mark</Button>
      </div>
      <TrendChart
        traces={[{ pointId: point.id, label: point.tag, colour: 1, quantity }]}
        unit={quantity === 'reading' ? point.unit : signalUnit}
        windowMs={600_000}
        onWindow={setWindowMs}
        leastSpan={quantity === 'reading' ? interval * 20 : perLoad * interval * 20}
        marks={marks}
        frozen={frozen}
        label={`${quantity === 'reading' ? 'Reading' : 'Signal'} of ${point.tag} over the last ten minutes`}
      />
    </section>
  )
}
