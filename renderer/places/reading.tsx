import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import { certifiedSignalPerLoad } from '../chain/certificate-line.ts'
import { heldExcitation } from '../chain/held-line.ts'
import { readingState, signalState } from '../chain/reading-text.ts'
import { explain } from '../figures/explain.ts'
import { decimalsOf, fixedText, numberText } from '../figures/number-text.ts'
import { type Mark, TrendChart } from '../figures/trend-chart.tsx'
import { NotMeasured } from '../parts/quantity.tsx'
import { useRequest, useTopic } from '../state/host-context.tsx'
import { heldValue, type PointView, usePractice } from '../state/point-view.ts'

const trendMs = 600_000
const newest = 1_000

/** The reading in large digits with its state, the signal behind it, the trend, and what can be done to the indicator. */
export function ReadingPlace({ view }: { view: PointView }) {
  return (
    <div className="reading-place">
      <section>
        <BigReading view={view} />
        <Signals view={view} />
        <BenchLoad view={view} />
        <Commands view={view} />
      </section>
      <Trend view={view} />
    </div>
  )
}

export function BigReading({ view }: { view: PointView }) {
  const state = readingState(view)
  const sign = view.job.decimalSign
  return (
    <div>
      <p className="second">
        {view.point.tag} {view.point.name} · {state.kind} · <span className={state.tone === 'plain' ? '' : state.tone}>{state.word}</span>
      </p>
      <p className={`digits ${state.struck ? 'is-struck' : ''}`}>
        {state.reading === null ? <NotMeasured>not read</NotMeasured> : numberText(state.reading, sign)}{' '}
        <span className="digits-unit">{state.unit}</span>
      </p>
    </div>
  )
}

function Signals({ view }: { view: PointView }) {
  const { point, live } = view
  const sign = view.job.decimalSign
  const signal = signalState(view)
  const volts = heldExcitation(view)
  const slope = certifiedSignalPerLoad(point)
  const zero = point.measured.zeroSignal
  const noise = live?.state === 'fresh' ? live.noiseSignal : null
  const noiseMicrovolt = noise !== null && volts !== undefined ? noise * volts * 1_000 : null
  const inIntervals = noise !== null && slope ? noise / slope / Number(point.scaleInterval) : null
  const meant = signal && slope && zero ? (signal.value - Number(zero.value)) / slope : null
  return (
    <dl className="signals">
      <div>
        <dt>Signal{signal ? `, ${signal.origin}` : ''}</dt>
        <dd>{signal ? <Figure value={numberText(signal.text, sign)} unit={signal.unit} /> : <NotMeasured />}</dd>
      </div>
      <div>
        <dt>{volts ? `mV, by ${volts} V nominal` : 'mV'}</dt>
        <dd>
          {signal && volts && signal.unit === 'mV/V' ? (
            <Figure value={fixedText(signal.value * volts, 3, sign)} unit="mV" />
          ) : (
            <NotMeasured>excitation not read</NotMeasured>
          )}
        </dd>
      </div>
      <div>
        <dt>By certificate it means</dt>
        <dd>
          {meant === null ? (
            <NotMeasured>zero not measured</NotMeasured>
          ) : (
            <Figure value={fixedText(meant, decimalsOf(point.scaleInterval), sign)} unit={point.unit} />
          )}
        </dd>
      </div>
      <div>
        <dt>Noise, last 5 s</dt>
        <dd>
          {noiseMicrovolt === null ? (
            <NotMeasured />
          ) : (
            <Figure
              value={fixedText(noiseMicrovolt, 2, sign)}
              unit={`µV${inIntervals === null ? '' : ` = ${fixedText(inIntervals, 2, sign)} d`}`}
            />
          )}
        </dd>
      </div>
    </dl>
  )
}

const Figure = ({ value, unit }: { value: string; unit: string }) => (
  <span className="figure-digits">
    {value} <span className="unit">{unit}</span>
  </span>
)

function BenchLoad({ view }: { view: PointView }) {
  const on = usePractice(view.point.id)
  const put = useRequest('practice.load')
  const [text, setText] = useState('')
  if (!view.job.simulated) return null
  const submit = (event: FormEvent) => {
    event.preventDefault()
    void put.ask({ pointId: view.point.id, load: text.trim().replace(',', '.') })
  }
  return (
    <form className="bench" onSubmit={submit}>
      <h2>
        Practice bench{' '}
        <span className="second">simulated; {on === undefined ? 'nothing put on yet' : `${numberText(on)} ${view.point.unit} is on`}</span>
      </h2>
      <div className="button-row">
        <TextInput
          aria-label={`Load on the practice bench, ${view.point.unit}`}
          placeholder={`load, ${view.point.unit}`}
          value={text}
          onChange={(e) => setText(e.currentTarget.value)}
          w={110}
        />
        <Button type="submit" loading={put.running} disabled={text.trim() === ''}>
          Put this load on
        </Button>
        <Button onClick={() => void put.ask({ pointId: view.point.id, load: '0' })}>Take all off</Button>
      </div>
      {put.failure ? <p className="lost small">{explain(put.failure)}</p> : null}
    </form>
  )
}

function Commands({ view }: { view: PointView }) {
  const { point, profile, live, state } = view
  const command = useRequest('indicator.command')
  if (!profile) return null
  const reading = live?.state === 'fresh' ? live.sample.reading : null
  const net = live?.state === 'fresh' && live.sample.status.includes('net')
  const barred =
    state?.identity.outcome !== 'confirmed' ? 'not now: the unit is not identified' : reading === null ? 'not now: no live reading' : null
  const share = reading === null ? null : (Math.abs(Number(reading)) / Number(point.maximumLoad)) * 100
  const absolute = point.loadPath.pressure === 'absolute'
  const list = [
    {
      name: 'zero' as const,
      label: 'Zero',
      says: absolute
        ? 'an absolute pressure is never zeroed'
        : share === null
          ? ''
          : share > 4
            ? `not now: it would take off ${fixedText(share, 1)} % of maximum load, at most 4 %`
            : `takes ${numberText(reading ?? '0')} ${point.unit} off, ${fixedText(share, 2)} % of maximum load`,
      off: absolute || (share ?? 0) > 4,
    },
    { name: 'tare' as const, label: 'Tare', says: 'net starts at nought; gross stays', off: false },
    { name: 'clear-tare' as const, label: 'Clear tare', says: net ? 'the reading is gross again' : 'not now: no tare is set', off: !net },
  ].filter((c) => profile.commands[c.name])
  if (list.length === 0) return null
  return (
    <div className="commands">
      <h2>Acts on the indicator</h2>
      {list.map((c) => (
        <div className="command" key={c.name}>
          <Button
            disabled={barred !== null || c.off}
            loading={command.running}
            onClick={() => void command.ask({ pointId: point.id, command: c.name })}
          >
            {c.label}
          </Button>
          <span className="second">{barred ?? c.says}</span>
        </div>
      ))}
      {command.failure ? <p className="lost small">{explain(command.failure)}</p> : null}
    </div>
  )
}

function Trend({ view }: { view: PointView }) {
  const { point } = view
  const [quantity, setQuantity] = useState<'reading' | 'signal'>('reading')
  const [frozen, setFrozen] = useState(false)
  const [marks, setMarks] = useState<Mark[]>([])
  const live = useTopic('live', point.id)
  const at = live && live.state !== 'never-read' ? live.sample.at : null
  const signalUnit = live && live.state !== 'never-read' ? live.sample.signalUnit : 'mV/V'
  const unit = quantity === 'reading' ? (heldValue(view, 'reading.unit') ?? point.unit) : signalUnit
  return (
    <section className="trend">
      <div className="trend-head">
        <h2>Last 10 minutes</h2>
        <span className="spring" />
        <Button aria-pressed={quantity === 'reading'} onClick={() => setQuantity('reading')}>
          {point.unit}
        </Button>
        <Button aria-pressed={quantity === 'signal'} onClick={() => setQuantity('signal')}>
          {signalUnit}
        </Button>
        <Button aria-pressed={frozen} onClick={() => setFrozen(!frozen)}>
          {frozen ? 'Let the chart run' : 'Freeze chart'}
        </Button>
        <Button
          disabled={at === null}
          onClick={() => at !== null && setMarks([...marks.slice(-newest), { at, label: `mark ${marks.length + 1}` }])}
        >
          Mark
        </Button>
      </div>
      <TrendChart
        traces={[{ pointId: point.id, label: point.tag, colour: 1, quantity }]}
        unit={unit}
        windowMs={trendMs}
        leastSpan={quantity === 'reading' ? 5 * Number(point.scaleInterval) : 0.001}
        marks={marks}
        frozen={frozen}
        label={`${point.tag}, ${quantity} over the last ten minutes`}
      />
    </section>
  )
}
