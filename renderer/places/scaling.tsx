import { Button } from '@mantine/core'
import { useMemo, useState } from 'react'
import type { Point } from '../../app/job/schema.ts'
import { units } from '../../app/quantity/units.ts'
import { proposeScaling, type ScalingProposal } from '../../app/scaling/propose-scaling.ts'
import { explainScalingFailure } from '../../app/scaling/scaling-failure.ts'
import type { TwoPairs } from '../../app/scaling/scaling-values.ts'
import { heldLine } from '../chain/held-line.ts'
import { implied } from '../chain/implied-by-held.ts'
import { explain } from '../figures/explain.ts'
import { fixedText, numberText, signedFixedText } from '../figures/number-text.ts'
import { PlotFrame } from '../figures/plot-frame.tsx'
import { Fact, Facts } from '../parts/facts.tsx'
import { useRequest, useTopic } from '../state/host-context.tsx'
import type { PointView } from '../state/point-view.ts'

const measuredOf = ({ measured }: Point) => ({
  ...(measured.zeroSignal ? { zeroSignal: measured.zeroSignal } : {}),
  ...(measured.excitation ? { excitation: measured.excitation } : {}),
})

/** From the certificates to the values this indicator is to hold, with what rounding costs; and what it holds now. */
export function ScalingPlace({ view }: { view: PointView }) {
  const { point, profile } = view
  const proposal = useMemo(() => (profile ? proposeScaling(point, profile, measuredOf(point)) : null), [point, profile])
  const [chosen, setChosen] = useState(0)
  if (!profile || !proposal) return <p className="second">This point has no indicator, so there are no scaling values to choose.</p>
  if (!proposal.ok)
    return (
      <div className="columns">
        <section className="wide">
          <h2>No scaling can be computed</h2>
          <p className="caution">{explainScalingFailure(proposal.failure)}</p>
        </section>
      </div>
    )
  const { value } = proposal
  const offers = [value.pairs, ...value.alternatives]
  const pairs = offers[chosen] ?? value.pairs
  return (
    <div className="columns scaling">
      <CertificateSide view={view} proposal={value} />
      <section className="middle">
        <h2>What this indicator can hold</h2>
        <PairsTable view={view} offers={offers} chosen={chosen} onChoose={setChosen} />
        <p className="second">{roundingText(pairs, view)}</p>
        <PutIntoIntended view={view} values={{ ...value.intended, ...pairs.values }} />
        <FoundEvidence view={view} />
      </section>
      <section className="plot-side">
        <h2>Error along the load</h2>
        <ErrorAlongLoad view={view} pairs={pairs} />
      </section>
    </div>
  )
}

function CertificateSide({ view, proposal }: { view: PointView; proposal: ScalingProposal }) {
  const { point, job } = view
  const sign = job.decimalSign
  const { certificates } = point.sensors
  const { line, input, warnings, zeroFrom } = proposal
  const [first] = certificates
  const outputs = certificates.flatMap((c) => (c.ratedOutput ? [numberText(c.ratedOutput.value, sign)] : []))
  const span = line.slope.mul(line.maximumLoad).valueOf()
  return (
    <section className="certificate-side">
      <h2>What the certificates say</h2>
      <Facts>
        <Fact label="Sensors">
          {certificates.length} × {first ? numberText(first.capacity.value, sign) : '–'}{' '}
          <span className="unit">{first ? units[first.capacity.unit].symbol : ''}</span>
        </Fact>
        <Fact label="Rated outputs">{outputs.join(', ')}</Fact>
        <Fact label="Mean">
          <b>{fixedText(line.ratedOutput.valueOf(), 4, sign)}</b> <span className="unit">mV/V</span>
        </Fact>
        <Fact label="Share on the sensors">
          {numberText(point.loadPath.sharePercent, sign)} <span className="unit">%</span>
        </Fact>
        <Fact label="Dead load">
          {point.loadPath.deadLoad ? (
            `${numberText(point.loadPath.deadLoad.value, sign)} ${units[point.loadPath.deadLoad.unit].symbol}`
          ) : (
            <span className="second">not stated</span>
          )}
        </Fact>
        <Fact label={zeroFrom === 'measured' ? 'Zero signal, measured' : 'Zero signal, expected'}>
          {fixedText(line.zeroSignal.valueOf(), 5, sign)} <span className="unit">mV/V</span>
        </Fact>
      </Facts>
      <Facts>
        <Fact label={`${numberText(point.maximumLoad, sign)} ${point.unit} adds`}>
          <b>{fixedText(span, 6, sign)}</b> <span className="unit">mV/V</span>
        </Fact>
        {input.microvoltsPerInterval ? (
          <Fact label="One interval d is">
            {fixedText(input.microvoltsPerInterval.valueOf(), 3, sign)} <span className="unit">µV</span>
          </Fact>
        ) : null}
      </Facts>
      <MeasureZero view={view} />
      {warnings.map((w) => (
        <p key={w.kind + w.why} className="caution small">
          {w.why}
        </p>
      ))}
    </section>
  )
}

function MeasureZero({ view }: { view: PointView }) {
  const { point, live } = view
  const revision = useTopic('job')?.revision ?? 0
  const { ask, running, failure } = useRequest('point.measure-zero')
  const can = live?.state === 'fresh' && live.steady && live.sample.signalOrigin === 'measured'
  return (
    <div className="measure-zero">
      <Button disabled={!can} loading={running} onClick={() => void ask({ pointId: point.id, revision })}>
        {point.measured.zeroSignal ? 'Measure the zero again' : 'Take the measured zero'}
      </Button>
      <span className="second small">
        {can ? 'with nothing on the point but its dead load' : 'not now: needs a steady measured signal, unloaded'}
      </span>
      {failure ? <p className="lost small">{explain(failure)}</p> : null}
    </div>
  )
}

function PairsTable({
  view,
  offers,
  chosen,
  onChoose,
}: {
  view: PointView
  offers: readonly TwoPairs[]
  chosen: number
  onChoose: (index: number) => void
}) {
  const { point, job } = view
  const sign = job.decimalSign
  const held = heldLine(view)
  const off = heldOff(view, offers[0])
  const decimals = offers[0] ? Math.max(...offers.map((o) => o.upper.signal.split('.')[1]?.length ?? 0)) : 4
  const shortSignal = (text: string) => fixedText(Number(text), Math.min(decimals, 6), sign)
  return (
    <table className="plain-table pairs">
      <thead>
        <tr>
          <th scope="col">lower → upper pair</th>
          <th scope="col" className="is-right">
            mV/V
          </th>
          <th scope="col" className="is-right">
            at {numberText(point.maximumLoad, sign)} {point.unit}
          </th>
          <th scope="col" className="is-right">
            in d
          </th>
        </tr>
      </thead>
      <tbody>
        {offers.map((o, i) => (
          <tr key={o.upper.reading} className={i === chosen ? 'is-chosen' : ''}>
            <td>
              <span className="pair-choice">
                {offers.length > 1 ? (
                  <input
                    type="radio"
                    name="pair"
                    aria-label={`Pair at ${o.upper.reading} ${units[o.readingUnit].symbol}`}
                    checked={i === chosen}
                    onChange={() => onChoose(i)}
                  />
                ) : null}
                <span>
                  {numberText(o.lower.reading, sign)} → <b>{numberText(o.upper.reading, sign)}</b> {units[o.readingUnit].symbol}
                </span>
              </span>
            </td>
            <td className="is-right">
              {shortSignal(o.lower.signal)} → <b>{shortSignal(o.upper.signal)}</b>
            </td>
            <td className="is-right">
              {signedFixedText(o.rounding.atMaximum.units.valueOf(), 3, sign)} {point.unit}
            </td>
            <td className="is-right">{signedFixedText(o.rounding.atMaximum.intervals.valueOf(), 2, sign)}</td>
          </tr>
        ))}
        {held && off !== undefined ? (
          <tr className={Math.abs(off.intervals) > 0.5 ? 'is-attention' : ''}>
            <td>
              held now: {fixedText(held.lower.reading, 0, sign)} → {fixedText(held.upper.reading, 0, sign)} {point.unit}
            </td>
            <td className="is-right">
              {fixedText(held.lower.signal, Math.min(decimals, 6), sign)} → {fixedText(held.upper.signal, Math.min(decimals, 6), sign)}
            </td>
            <td className="is-right">
              {signedFixedText(off.units, 2, sign)} {point.unit}
            </td>
            <td className="is-right">{signedFixedText(off.intervals, 1, sign)}</td>
          </tr>
        ) : null}
      </tbody>
    </table>
  )
}

/** Span error at maximum load that the held values make against the exact line by the certificates; zero taken off. */
function heldOff(view: PointView, offer: TwoPairs | undefined): { units: number; intervals: number } | undefined {
  const line = heldLine(view)
  const found = implied(view)
  if (!line || !offer || !found) return undefined
  const maximum = Number(view.point.maximumLoad)
  const shown = maximum / (1 + found.differencePercent.valueOf() / 100)
  return { units: shown - maximum, intervals: (shown - maximum) / Number(view.point.scaleInterval) }
}

function roundingText(pairs: TwoPairs, view: PointView): string {
  const sign = view.job.decimalSign
  const { atMost } = pairs.rounding
  const d = atMost.intervals.valueOf()
  const cost = d < 0.005 ? 'less than 0.01 d' : `at most ${fixedText(d, 2, sign)} d`
  return `In the digits of this indicator rounding costs ${cost.replace('.', sign)} at maximum load${d < 0.05 ? ': nothing to gain from another pair.' : '. Every pair lies on the same line; the one that rounds best costs least.'}`
}

function PutIntoIntended({ view, values }: { view: PointView; values: Record<string, string> }) {
  const { point, state } = view
  const revision = useTopic('job')?.revision ?? 0
  const { ask, running, failure } = useRequest('point.intend')
  const changed = Object.entries(values).filter(([key, value]) => point.intended[key] !== value).length
  const closed = Boolean(state?.writing) || Boolean(view.runningCheck)
  return (
    <>
      <div className="button-row">
        <Button
          variant="filled"
          disabled={changed === 0 || closed}
          loading={running}
          onClick={() => void ask({ pointId: point.id, revision, values })}
        >
          Put into intended values
        </Button>
        <span className="second">
          {closed
            ? 'closed while a check or a write runs'
            : changed === 0
              ? 'these values are what is intended'
              : `${changed} ${changed === 1 ? 'value' : 'values'}, this point; nothing is written yet`}
        </span>
      </div>
      {failure ? (
        <p className="lost" role="alert">
          {explain(failure)}
        </p>
      ) : null}
    </>
  )
}

/** What the held values imply, and which usual slips would explain it: a suspicion with its evidence. */
function FoundEvidence({ view }: { view: PointView }) {
  const sign = view.job.decimalSign
  const found = implied(view)
  if (!found) return null
  const off = found.differencePercent.valueOf()
  return (
    <div className="evidence">
      <h2>What the values held now imply</h2>
      <p>
        {fixedText(found.sensitivity.valueOf(), 4, sign)} <span className="unit">mV/V</span> at capacity, against{' '}
        {fixedText(found.certified.valueOf(), 4, sign)} <span className="unit">mV/V</span> certified: {signedFixedText(off, 3, sign)} %.
      </p>
      {found.suspicions.length > 0 ? (
        <ul>
          {found.suspicions.map((s) => (
            <li key={s.what} className="small">
              Suspected: {s.what}, which would explain all but {signedFixedText(s.missesPercent.valueOf(), 2, sign)} %.
            </li>
          ))}
        </ul>
      ) : null}
    </div>
  )
}

function ErrorAlongLoad({ view, pairs }: { view: PointView; pairs: TwoPairs }) {
  const { point, job } = view
  const sign = job.decimalSign
  const maximum = Number(point.maximumLoad)
  const interval = Number(point.scaleInterval)
  const held = heldLine(view)
  const off = heldOff(view, pairs)?.intervals
  const best = pairs.rounding.atMaximum.intervals.valueOf()
  const band = point.tolerance ? Number(point.tolerance.value) / interval : 0.5
  const greatest = Math.max(off ?? 0, best, band) * 1.1
  const least = Math.min(off ?? 0, best, -band) * 1.1
  return (
    <>
      <p className="second small">
        {point.tolerance ? `shaded: the tolerance, ± ${fixedText(band, 1, sign)} d` : 'shaded: half an interval'}
        {held ? '; zero taken off' : ''}
      </p>
      <PlotFrame
        label="Error of held and proposed scaling along the load, in scale intervals"
        maximum={maximum}
        loadUnit={point.unit}
        least={least}
        greatest={greatest}
        unit="d"
      >
        {({ x, y }) => (
          <>
            <rect className="plot-band" x={x(0)} y={y(band)} width={x(maximum) - x(0)} height={y(-band) - y(band)} />
            {off === undefined ? null : (
              <>
                <line className="trace-2" x1={x(0)} y1={y(0)} x2={x(maximum)} y2={y(off)} strokeDasharray="7 3" />
                <text className="end-label trace-2" x={x(maximum) + 6} y={labelY(y(off), y(best), off > best) + 4}>
                  held {signedFixedText(off, 1, sign)}
                </text>
              </>
            )}
            <line className="trace-1" x1={x(0)} y1={y(0)} x2={x(maximum)} y2={y(best)} />
            <text className="end-label trace-1" x={x(maximum) + 6} y={y(best) + 4}>
              new {signedFixedText(best, 2, sign)}
            </text>
          </>
        )}
      </PlotFrame>
    </>
  )
}

/** Keeps two labels at the end of the lines apart. */
const labelY = (own: number, other: number, above: boolean) => (Math.abs(own - other) >= 16 ? own : other + (above ? -16 : 16))
