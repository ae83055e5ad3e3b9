import { units } from '../../app/quantity/units.ts'
import { certifiedSignalPerLoad } from '../chain/certificate-line.ts'
import { heldExcitation } from '../chain/held-line.ts'
import { clippedWords, inputClipped } from '../chain/input-room.ts'
import { type Meant, meantByCertificate } from '../chain/meant-by-certificate.ts'
import { readingOff } from '../chain/reading-off.ts'
import { readingState, signalState } from '../chain/reading-text.ts'
import { scalingDoubt } from '../chain/scaling-doubt.ts'
import { decimalsOf, fixedText, numberText } from '../figures/number-text.ts'
import { TrendPanel } from '../figures/trend/trend-panel.tsx'
import { LargeDigits } from '../parts/large-digits.tsx'
import { Overloaded } from '../parts/overloaded.tsx'
import { NotMeasured, Shape } from '../parts/quantity.tsx'
import { Scroller } from '../parts/scroller.tsx'
import { open } from '../state/navigation.ts'
import type { PointView } from '../state/point-view.ts'
import { Term } from '../terms/term.tsx'
import { BenchLoad } from './bench-load.tsx'
import { IndicatorCommands } from './commands.tsx'
import { Record } from './record.tsx'

/** The reading beside the raw signal, live, with what each means; and the last ten minutes. */
export function ReadingPlace({ view }: { view: PointView }) {
  const { point } = view
  const state = readingState(view)
  const doubt = scalingDoubt(view)
  const off = readingOff(view)
  return (
    <div className="split">
      <div className="split-left">
        <p className={state.tone === 'plain' ? 'second' : state.tone}>
          {state.alarm === null ? null : <Shape kind="square" />}
          {point.tag} {point.name} · <Term of={state.kind === 'net' ? 'net' : 'gross'} /> · {state.word}
        </p>
        <LargeDigits reading={state.reading} unit={state.unit} struck={state.struck} alarmed={state.alarm !== null} />
        <Overloaded view={view} />
        {off ? (
          <p className="caution small">
            The reading is off by {off.error}; {off.tolerance}.{' '}
            <button type="button" className="plain-link" onClick={() => open({ pointId: point.id, place: 'load' })}>
              Look at what is expected
            </button>
          </p>
        ) : null}
        {doubt ? (
          <p className="caution small">
            Scaled wrongly? The indicator’s scaling implies {doubt.sensitivity} mV/V, {doubt.offPercent} % off the certificate.{' '}
            <button type="button" className="plain-link" onClick={() => open({ pointId: point.id, place: 'scaling' })}>
              Look at the evidence
            </button>
          </p>
        ) : null}
        <Scroller className="below-digits">
          <Meanings view={view} />
          <IndicatorCommands view={view} />
          <Record view={view} />
          <BenchLoad view={view} />
        </Scroller>
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
  const measured = signal?.origin === 'measured' ? signal : null
  const old = live?.state === 'stale' ? 'struck' : undefined
  const noise = live?.state === 'fresh' ? live.noiseSignal : null
  const decimals = decimalsOf(point.scaleInterval)
  const clipped = inputClipped(view)
  const derivable = clipped ? null : measured
  const volts = derivable?.unit === 'mV/V' ? excitation : undefined
  const meant = meantByCertificate(view)
  return (
    <dl className="meanings">
      <div>
        <dt>{signal?.origin === 'derived' ? <Term of="derived">Signal, derived</Term> : signal ? 'Signal, measured' : 'Signal'}</dt>
        <dd>
          {measured ? (
            <span className={clipped ? 'lost' : old}>
              {clipped ? <Shape kind="square" /> : null}
              {numberText(measured.text, sign)}
            </span>
          ) : signal ? (
            <span className="derived">{numberText(signal.text, sign)}</span>
          ) : (
            <NotMeasured />
          )}{' '}
          <span className="digits-unit">{signal?.unit}</span>
        </dd>
        {clipped ? (
          <dd className="meanings-why lost">
            {clippedWords.said}: {clippedWords.why}
          </dd>
        ) : null}
      </div>
      <div>
        <dt>{volts === undefined ? 'mV' : `mV, by ${numberText(String(volts), sign)} V nominal`}</dt>
        <dd>
          {derivable && volts !== undefined ? (
            <span className={old}>{fixedText(derivable.value * volts, 3, sign)}</span>
          ) : (
            <NotMeasured>not known</NotMeasured>
          )}{' '}
          {derivable && volts !== undefined ? <span className="digits-unit">mV</span> : null}
        </dd>
      </div>
      <div>
        <dt>By certificate it means</dt>
        <dd>
          {meant && 'load' in meant ? (
            <>
              <span className={old}>{fixedText(meant.load, decimals, sign)}</span>{' '}
              <span className="digits-unit">{units[point.unit].symbol}</span>
            </>
          ) : (
            <NotMeasured>{meant && 'noZero' in meant ? 'no zero known' : 'not known'}</NotMeasured>
          )}
        </dd>
        {meant ? <dd className="meanings-why">{zeroWords(meant, units[point.unit].dimension === 'pressure')}</dd> : null}
      </div>
      <div>
        <dt>
          <Term of="noise">Noise</Term>, last 5 s
        </dt>
        <dd>
          {noise === null || !derivable ? (
            <NotMeasured>{live?.state === 'fresh' && derivable?.origin === 'measured' ? 'not while it moves' : 'not measured'}</NotMeasured>
          ) : (
            <>
              {fixedText(noise * 1000 * (volts ?? 1), 2, sign)}{' '}
              <span className="digits-unit">
                {volts === undefined && derivable.unit === 'mV/V' ? 'µV/V' : 'µV'}
                {perLoad === undefined ? '' : ` = ${fixedText(noise / perLoad / Number(point.scaleInterval), 2, sign)} d`}
              </span>
            </>
          )}
        </dd>
      </div>
    </dl>
  )
}

function zeroWords(meant: Meant, pressure: boolean): string {
  if ('clipped' in meant) return `input ${clippedWords.said}`
  if ('noZero' in meant) return `${meant.noZero}: take the measured zero`
  if (meant.zeroFrom === 'measured') return 'from the measured zero'
  return pressure ? 'from the zero balance' : 'from zero balance and dead load'
}

function Trend({ view }: { view: PointView }) {
  return (
    <section className="split-right" aria-label="Trend">
      <TrendPanel views={[view]} heading={<h2>Trend</h2>} />
    </section>
  )
}
