import { useState } from 'react'
import { appliedWords } from '../../app/applied-words.ts'
import { plusMinus } from '../../app/quantity/format.ts'
import { excitationNow } from '../../app/scaling/expected-chain.ts'
import type { Headroom } from '../../app/scaling/headroom.ts'
import { explainScalingFailure } from '../../app/scaling/scaling-failure.ts'
import { sentence } from '../../app/sentence.ts'
import { certifiedSignalPerLoad } from '../chain/certificate-line.ts'
import { expectedNow, signalDecimals, signalNow } from '../chain/expected.ts'
import { clippedWords, inputClipped, inputRoom } from '../chain/input-room.ts'
import { signalState } from '../chain/reading-text.ts'
import { briefly } from '../figures/explain.ts'
import { fixedText, numberText, signedFixedText, voltsText } from '../figures/number-text.ts'
import { TrendChart } from '../figures/trend/trend-chart.tsx'
import { following, windowText } from '../figures/trend/trend-view.ts'
import { QuantityField } from '../parts/edit-field.tsx'
import { Fact, Facts } from '../parts/facts.tsx'
import { PlaceColumns } from '../parts/place-columns.tsx'
import { NotMeasured, Shape } from '../parts/quantity.tsx'
import type { PointView } from '../state/point-view.ts'
import { usePointEdit } from '../state/use-point-edit.ts'
import { Term } from '../terms/term.tsx'
import { ExcitationLimits } from './input/excitation-limits.tsx'
import { HeadroomScale } from './input/headroom-scale.tsx'
import { IntendedSetting } from './input/intended-setting.tsx'

const tenMinutes = following(600_000)

/** What arrives from the bridge, how much room the input has for it, and what feeds it. */
export function InputPlace({ view }: { view: PointView }) {
  const { point, profile } = view
  const edit = usePointEdit(point.id)
  const { held: room, intended } = inputRoom(view)
  const filter = profile?.registers.find((r) => r.name.startsWith('filter.') && r.role === 'setting')?.name
  const { excitation: _before, ...measured } = point.measured
  return (
    <PlaceColumns
      place="input"
      columns={[
        {
          top: <Signal view={view} />,
          parts: [
            {
              name: 'Settings of the input',
              content: (
                <>
                  <IntendedSetting view={view} name="input.range" label="Input range" term="input range" />
                  <IntendedSetting view={view} name="excitation.voltage" label="Excitation, nominal" />
                  <QuantityField
                    label="Excitation, measured"
                    term="excitation"
                    value={point.measured.excitation}
                    dimensions={['voltage']}
                    unit="V"
                    empty="not measured"
                    edit={edit}
                    change={(excitation) => ({ measured: { ...point.measured, excitation } })}
                    clear={() => ({ measured })}
                    beside={point.measured.excitation ? 'at the sensor; typed' : excitationNeed(view)}
                  />
                  <IntendedSetting view={view} name={filter ?? 'filter'} label="Filter" term="filter" />
                </>
              ),
            },
          ],
        },
        {
          className: 'headroom-column',
          main: true,
          parts: [
            {
              name: 'Room in the input',
              term: 'headroom',
              content: room.ok ? (
                <Room
                  view={view}
                  room={room.value}
                  intended={intended.ok && intended.value.limits?.origin === 'intended' ? intended.value : null}
                />
              ) : (
                <p className="second">{explainScalingFailure(room.failure)}</p>
              ),
            },
          ],
        },
        {
          className: 'wide',
          parts: [
            {
              name: 'Excitation',
              content: (
                <>
                  <ExcitationLimits view={view} />
                  <InputFacts view={view} room={room.ok ? room.value : undefined} />
                </>
              ),
            },
            ...(signalState(view)?.origin === 'measured' ? [{ name: 'Signal', content: <SignalTrend view={view} /> }] : []),
          ],
        },
      ]}
    />
  )
}

function excitationNeed({ profile }: PointView): string {
  if (!profile?.input) return 'not measured'
  return profile.input.ratiometric
    ? 'not measured; this input is ratiometric and does not need it'
    : 'not measured: an input in mV needs it, at the sensor'
}

function Signal({ view }: { view: PointView }) {
  const { point, job, live } = view
  const sign = job.decimalSign
  const signal = signalState(view)
  const measured = signal?.origin === 'measured' ? signal : null
  const expected = expectedNow(view)
  const excitation = excitationNow(point, view.profile, view.state?.held ?? null)
  const clipped = inputClipped(view)
  const compared = expected?.ok ? signalNow(view, expected.value) : undefined
  return (
    <>
      <p className="second">
        {point.tag} · signal{measured ? ', measured' : ''}
        {live?.state === 'stale' ? ` · stale, ${briefly(live.because)}` : ''}
      </p>
      {measured ? (
        <p className={`digits ${live?.state === 'stale' ? 'struck' : clipped ? 'lost' : ''}`} style={{ fontSize: 44 }}>
          {numberText(measured.text, sign)} <span className="digits-unit">{measured.unit}</span>
        </p>
      ) : (
        <p>
          <NotMeasured />
        </p>
      )}
      {clipped ? (
        <p className="lost">
          <Shape kind="square" />
          {clippedWords.said}: {clippedWords.why}. What the sensor gives is not known.
        </p>
      ) : null}
      {measured?.unit === 'mV/V' && excitation && !clipped ? (
        <p className="second">
          {fixedText(measured.value * excitation.volts.valueOf(), 4, sign)} mV by {voltsText(excitation.volts.valueOf(), sign)} V,{' '}
          {excitation.from}
        </p>
      ) : null}
      {signal?.origin === 'derived' ? (
        <p className="caution">
          This indicator gives no signal. From the reading, through the very scaling values in question, it would be{' '}
          {numberText(signal.text, sign)} {signal.unit}: <Term of="derived" />, not measured.
        </p>
      ) : null}
      <p className="second">
        {compared
          ? `expected ${fixedText(compared.expected, signalDecimals(compared.unit), sign)}, difference ${signedFixedText(compared.value - compared.expected, signalDecimals(compared.unit), sign)} ${compared.unit}`
          : expected?.ok
            ? `expected ${fixedText(expected.value.inputSignal.valueOf(), 5, sign)} mV/V`
            : `nothing expected: the ${appliedWords(point).quantity} that is on is unknown`}
      </p>
    </>
  )
}

const verdicts: Record<Headroom['verdict'], (maximum: string) => string> = {
  fits: (maximum) => `Zero, ${maximum} and a tenth of the span more fit.`,
  'margin-cut': (maximum) => `${sentence(maximum)} fits, a tenth of the span above it does not.`,
  beyond: (maximum) => `${sentence(maximum)} does not fit: the input saturates below it. Choose a larger range.`,
  'not-judged': () => 'Not judged.',
}

function Room({ view, room, intended }: { view: PointView; room: Headroom; intended: Headroom | null }) {
  const { job, live } = view
  const signal = signalState(view)
  const shown = signal?.origin === 'measured' && signal.unit === room.unit ? signal.value : undefined
  const words = appliedWords(view.point)
  const { maximum } = words
  const clipped = inputClipped(view)
  const bad = room.verdict === 'beyond' || room.verdict === 'margin-cut'
  return (
    <>
      <p className={bad ? 'attention' : 'second'}>
        {bad ? <Shape kind="triangle" /> : null}
        {clipped && room.verdict === 'fits' ? `By the certificates the range holds ${maximum}: look at the leads and at what is on. ` : ''}
        {room.noLimits ?? verdicts[room.verdict](maximum)}
        {room.usedPercent ? ` ${fixedText(room.usedPercent.valueOf(), 0, job.decimalSign)} % of the range with the margin.` : ''}
      </p>
      {intended && intended.limits?.means !== room.limits?.means ? (
        <p className={intended.verdict === 'fits' ? 'second' : 'attention'}>
          {intended.verdict === 'fits' ? null : <Shape kind="triangle" />}
          {intended.limits?.means}, intended: {verdicts[intended.verdict](maximum)}
        </p>
      ) : null}
      <HeadroomScale room={room} words={words} live={shown} stale={live?.state === 'stale'} />
      <p className="second small">
        {room.unit}
        {room.limits && !room.limits.bothSides ? '; what it takes below nought is not stated' : ''}
      </p>
    </>
  )
}

function InputFacts({ view, room }: { view: PointView; room: Headroom | undefined }) {
  const { profile, job } = view
  const sign = job.decimalSign
  const { input } = profile ?? {}
  const notStated = <span className="second">not stated</span>
  const small = room?.microvoltsPerInterval && room.leastMicrovolts && room.microvoltsPerInterval.lt(room.leastMicrovolts)
  return (
    <Facts>
      <Fact label={<Term of="µV per interval">Signal of one scale interval</Term>} strong>
        {room?.microvoltsPerInterval ? (
          <span className={small ? 'attention' : ''}>
            {small ? <Shape kind="triangle" /> : null}
            {fixedText(room.microvoltsPerInterval.valueOf(), 3, sign)} <span className="unit">µV</span>
          </span>
        ) : (
          <span className="second">excitation not known</span>
        )}
      </Fact>
      <Fact label="Least for one interval, by the profile">
        {room?.leastMicrovolts ? (
          <>
            {fixedText(room.leastMicrovolts.valueOf(), 2, sign)} <span className="unit">µV</span>
          </>
        ) : (
          notStated
        )}
      </Fact>
      <Fact label={<Term of="gain error">Gain error of the input</Term>}>
        {input?.gainErrorPercent ? (
          <>
            {plusMinus(numberText(input.gainErrorPercent, sign))} <span className="unit">%</span>
          </>
        ) : (
          notStated
        )}
      </Fact>
      <Fact label={<Term of="ratiometric">Ratiometric</Term>}>
        {input ? (input.ratiometric ? 'yes, excitation cancels' : 'no, excitation counts') : notStated}
      </Fact>
    </Facts>
  )
}

function SignalTrend({ view }: { view: PointView }) {
  const { point } = view
  const [windowMs, setWindowMs] = useState(600_000)
  const signal = signalState(view)
  const perLoad = certifiedSignalPerLoad(point)
  if (signal?.origin !== 'measured') return null
  return (
    <div className="input-trend">
      <div className="trend-head">
        <span className="second">{windowText(windowMs, tenMinutes.span)}</span>
      </div>
      <TrendChart
        traces={[{ pointId: point.id, label: point.tag, colour: 1, quantity: 'signal' }]}
        unit={signal.unit}
        view={tenMinutes}
        onArea={({ from, to }) => setWindowMs(to - from)}
        leastSpan={(perLoad ?? 0.002) * Number(point.scaleInterval) * 20}
        label={`Signal of ${point.tag} over the last ten minutes`}
      />
    </div>
  )
}
