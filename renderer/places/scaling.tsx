import { Button } from '@mantine/core'
import { toDecimal } from '../../app/quantity/exact.ts'
import { proposeScaling, type ScalingProposal } from '../../app/scaling/propose-scaling.ts'
import { explainScalingFailure } from '../../app/scaling/scaling-failure.ts'
import { explainImpliedFailure, impliedByHeld } from '../../app/scaling/implied.ts'
import type { TwoPairs } from '../../app/scaling/scaling-values.ts'
import { explain } from '../figures/explain.ts'
import { measuredAt } from '../figures/measured-at.ts'
import { numberText, signedText } from '../figures/number-text.ts'
import { ErrorAlongLoad } from '../figures/error-along-load.tsx'
import { Fact, Facts } from '../parts/facts.tsx'
import { NotMeasured, Quantity } from '../parts/quantity.tsx'
import { heldLine } from '../chain/held-line.ts'
import { useRequest } from '../state/host-context.tsx'
import type { PointView } from '../state/point-view.ts'

/** From certificates and measured zero to what this indicator can hold, with what rounding costs and what it holds now. */
export function ScalingPlace({ view }: { view: PointView }) {
  const { point, profile } = view
  if (!profile) return <p>This point has no indicator yet; give it one to work out its scaling values.</p>
  const proposal = proposeScaling(point, profile, measuredAt(point))
  if (!proposal.ok)
    return (
      <p className="attention" role="status">
        {explainScalingFailure(proposal.failure)}
      </p>
    )
  return (
    <div className="columns">
      <Certificates view={view} proposal={proposal.value} />
      <Holds view={view} proposal={proposal.value} />
      <Along view={view} proposal={proposal.value} />
    </div>
  )
}

function Certificates({ view, proposal }: { view: PointView; proposal: ScalingProposal }) {
  const { point } = view
  const { certificates } = point.sensors
  const measure = useRequest('point.measure-zero')
  const { line } = proposal
  const { zeroSignal } = point.measured
  return (
    <section className="narrow">
      <h2>{certificates.length === 1 ? 'What the certificate says' : 'What the certificates say'}</h2>
      <Facts>
        <Fact label="Sensors">{`${certificates.length} × ${certificates[0]?.capacity.value ?? ''} ${certificates[0]?.capacity.unit ?? ''}`}</Fact>
        <Fact label="Rated outputs">{certificates.map((c) => c.ratedOutput?.value ?? 'not stated').join(', ')}</Fact>
        <Fact label="Mean" strong>
          <Quantity value={toDecimal(line.ratedOutput, 4)} unit="mV/V" />
        </Fact>
        <Fact label="Share on the sensors">
          <Quantity value={point.loadPath.sharePercent} unit="%" />
        </Fact>
        <Fact label="Zero, measured">{zeroSignal ? <Quantity value={zeroSignal.value} unit={zeroSignal.unit} /> : <NotMeasured />}</Fact>
        <Fact label="Zero, used">
          <Quantity
            value={toDecimal(line.zeroSignal, 5)}
            unit={`mV/V, ${proposal.zeroFrom === 'measured' ? 'measured' : 'by certificate'}`}
          />
        </Fact>
        <Fact label={`${numberText(point.maximumLoad)} ${point.unit} adds`} strong>
          <Quantity value={toDecimal(proposal.line.slope.mul(Number(point.maximumLoad)), 6)} unit="mV/V" />
        </Fact>
      </Facts>
      <div className="button-row">
        <Button loading={measure.running} onClick={() => void measure.ask({ pointId: point.id, revision: view.job.revision })}>
          Take this signal as zero
        </Button>
        <span className="second small">only with the point unloaded</span>
      </div>
      {measure.failure ? <p className="lost small">{explain(measure.failure)}</p> : null}
      {proposal.warnings.map((w) => (
        <p className="caution" key={w.kind}>
          {w.why}
        </p>
      ))}
    </section>
  )
}

function Holds({ view, proposal }: { view: PointView; proposal: ScalingProposal }) {
  const { point, profile, state } = view
  const intend = useRequest('point.intend')
  const put = (pairs: TwoPairs) =>
    void intend.ask({ pointId: point.id, revision: view.job.revision, values: { ...proposal.intended, ...pairs.values } })
  const implied = profile && state?.held ? impliedByHeld(point, profile, state.held) : null
  const held = heldLine(view)
  const isIntended = (pairs: TwoPairs) => Object.entries(pairs.values).every(([key, value]) => point.intended[key] === value)
  return (
    <section>
      <h2>What this indicator can hold</h2>
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">upper pair</th>
            <th scope="col" className="is-right">
              {proposal.pairs.signalUnit}
            </th>
            <th scope="col" className="is-right">
              at {numberText(point.maximumLoad)} {point.unit}
            </th>
            <th scope="col" className="is-right">
              in d
            </th>
          </tr>
        </thead>
        <tbody>
          {[proposal.pairs, ...proposal.alternatives].slice(0, 5).map((pairs, i) => (
            <tr key={`${pairs.upper.reading} ${pairs.upper.signal}`} aria-current={isIntended(pairs) ? 'true' : undefined}>
              <td>
                {numberText(pairs.upper.reading)} <span className="unit">{pairs.readingUnit}</span>
                {i === 0 ? '' : <span className="second"> rounds better</span>}
              </td>
              <td className="is-right">{numberText(pairs.upper.signal)}</td>
              <td className="is-right">{signedText(toDecimal(pairs.rounding.atMaximum.units, 3))}</td>
              <td className="is-right">{signedText(toDecimal(pairs.rounding.atMaximum.intervals, 2))}</td>
            </tr>
          ))}
          {held ? (
            <tr className="attention-row">
              <td>held now: {numberText(held.texts.reading)}</td>
              <td className="is-right">{numberText(held.texts.signal)}</td>
              <td className="is-right" colSpan={2}>
                {implied?.ok ? `${signedText(toDecimal(implied.value.differencePercent, 3))} % on sensitivity` : ''}
              </td>
            </tr>
          ) : null}
        </tbody>
      </table>
      <p className="second small">
        Every pair lies on the same line; rounding costs at most {toDecimal(proposal.pairs.rounding.atMost.intervals, 3)} d at maximum load.
      </p>
      {implied ? (
        <p className="small">{implied.ok ? `What it holds implies ${implied.value.summary}.` : explainImpliedFailure(implied.failure)}</p>
      ) : null}
      {implied?.ok
        ? implied.value.suspicions.map((s) => (
            <p className="attention small" key={s.what}>
              {s.what}?
            </p>
          ))
        : null}
      <div className="button-row">
        <Button loading={intend.running} onClick={() => put(proposal.pairs)}>
          Put into intended values
        </Button>
        {isIntended(proposal.pairs) ? <span className="second">these are intended</span> : null}
      </div>
      {intend.failure ? <p className="lost small">{explain(intend.failure)}</p> : null}
    </section>
  )
}

/** Error of what is held and of what is proposed along the load, in scale intervals. */
function Along({ view, proposal }: { view: PointView; proposal: ScalingProposal }) {
  const held = heldLine(view)
  const slope = proposal.line.slope.valueOf()
  const maximum = Number(view.point.maximumLoad)
  const d = Number(view.point.scaleInterval)
  const heldError = held
    ? ((slope / ((held.upper.signal - held.lower.signal) / (held.upper.reading - held.lower.reading)) - 1) * maximum) / d
    : undefined
  return (
    <section>
      <h2>Error along the load</h2>
      <ErrorAlongLoad
        maximum={maximum}
        unit={view.point.unit}
        lines={[
          ...(heldError === undefined ? [] : [{ label: 'held', atMaximum: heldError, colour: 2 as const }]),
          { label: 'proposed', atMaximum: proposal.pairs.rounding.atMaximum.intervals.valueOf(), colour: 1 as const },
        ]}
      />
    </section>
  )
}
