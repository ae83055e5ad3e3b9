import { Button } from '@mantine/core'
import { appliedKind, appliedWords } from '../../../app/applied-words.ts'
import { neverNought } from '../../../app/evaluation/zero-setting.ts'
import { sharePercentText } from '../../../app/loadpath/point-share.ts'
import { formatQuantity } from '../../../app/quantity/format.ts'
import { units } from '../../../app/quantity/units.ts'
import type { ExactLine } from '../../../app/scaling/certificate-scaling.ts'
import type { ScalingProposal } from '../../../app/scaling/propose-scaling.ts'
import { decimalsOf, fixedText, numberText, signedFixedText } from '../../figures/number-text.ts'
import { Fact, Facts } from '../../parts/facts.tsx'
import { Failed } from '../../parts/failed.tsx'
import { Scroller } from '../../parts/scroller.tsx'
import { useRequest, useTopic } from '../../state/host-context.tsx'
import type { PointView } from '../../state/point-view.ts'
import { Term } from '../../terms/term.tsx'
import { PartsBar } from './parts-bar.tsx'

/** What the certificates and the load path come to, and how much each part weighs. */
export function CertificateSide({ view, proposal }: { view: PointView; proposal: ScalingProposal }) {
  const { point, job } = view
  const sign = job.decimalSign
  const { certificates } = point.sensors
  const { line, input, warnings, zeroFrom } = proposal
  const [first] = certificates
  const outputs = certificates.flatMap((c) => (c.ratedOutput ? [numberText(c.ratedOutput.value, sign)] : []))
  const span = line.slope.mul(line.maximumLoad).valueOf()
  return (
    <Scroller className="certificate-side">
      <h2>What the certificates say</h2>
      <Facts>
        <Fact label="Sensors">
          {certificates.length} × {first?.capacity ? numberText(first.capacity.value, sign) : '–'}{' '}
          <span className="unit">{first?.capacity ? units[first.capacity.unit].symbol : ''}</span>
        </Fact>
        <Fact label={<Term of="rated output">Rated outputs</Term>}>{outputs.join(', ')}</Fact>
        <Fact label="Mean">
          <b>{fixedText(line.ratedOutput.valueOf(), 4, sign)}</b> <span className="unit">mV/V</span>
        </Fact>
        {appliedKind(point) === 'load' ? <ShareAndDeadLoad view={view} line={line} /> : <HeadOfFluid view={view} line={line} />}
        <Fact label={<Term of="zero signal">{zeroFrom === 'measured' ? 'Zero signal, measured' : 'Zero signal, expected'}</Term>}>
          {fixedText(line.zeroSignal.valueOf(), 5, sign)} <span className="unit">mV/V</span>
        </Fact>
      </Facts>
      <Facts>
        <Fact label={`${numberText(point.maximumLoad, sign)} ${point.unit} adds`}>
          <b>{fixedText(span, 6, sign)}</b> <span className="unit">mV/V</span>
        </Fact>
        {input.microvoltsPerInterval ? (
          <Fact label={<Term of="µV per interval">One interval d is</Term>}>
            {fixedText(input.microvoltsPerInterval.valueOf(), 3, sign)} <span className="unit">µV</span>
          </Fact>
        ) : null}
      </Facts>
      <PartsBar view={view} proposal={proposal} />
      <MeasureZero view={view} />
      {warnings.map((w) => (
        <p key={w.kind + w.why} className="caution small">
          {w.why}
        </p>
      ))}
    </Scroller>
  )
}

function ShareAndDeadLoad({ view, line }: { view: PointView; line: ExactLine }) {
  const { point, job } = view
  const { deadLoad, structure } = point.loadPath
  return (
    <>
      <Fact label={<Term of="share on the sensors">Share on the sensors</Term>}>
        {numberText(sharePercentText(point.loadPath), job.decimalSign)} <span className="unit">%</span>
      </Fact>
      <Fact label={<Term of="dead load">Dead load</Term>}>
        {deadLoad || structure ? (
          `${fixedText(line.deadLoad.valueOf(), decimalsOf(point.scaleInterval) + 1, job.decimalSign)} ${units[point.unit].symbol}`
        ) : (
          <span className="second">not stated</span>
        )}
      </Fact>
    </>
  )
}

function HeadOfFluid({ view, line }: { view: PointView; line: ExactLine }) {
  const { point, job } = view
  return (
    <Fact label={<Term of="head of fluid">Head of fluid</Term>}>
      {point.loadPath.head ? (
        `${signedFixedText(line.deadLoad.valueOf(), decimalsOf(point.scaleInterval) + 1, job.decimalSign)} ${units[point.unit].symbol}`
      ) : (
        <span className="second">none stated</span>
      )}
    </Fact>
  )
}

function MeasureZero({ view }: { view: PointView }) {
  const { point, live, job } = view
  const { zeroSignal, zeroExcitation } = point.measured
  const revision = useTopic('job')?.revision ?? 0
  const { ask, running, failure } = useRequest('point.measure-zero')
  const never = neverNought(point, 'taken as the zero')
  const ready = live?.state === 'fresh' && live.steady && live.sample.signalOrigin === 'measured'
  const can = ready && never === null
  const kind = appliedKind(point)
  const nothing = kind === 'load' ? 'with nothing on the point but its dead load' : `with the point ${appliedWords(point).steps[0]}`
  return (
    <div className="measure-zero">
      <Button disabled={!can} loading={running} onClick={() => void ask({ pointId: point.id, revision })}>
        {zeroSignal ? 'Measure the zero again' : 'Take the measured zero'}
      </Button>
      <span className="second small">{never ?? (can ? nothing : `not now: needs a steady measured signal, ${nothing}`)}</span>
      {zeroSignal && zeroExcitation ? (
        <span className="second small">
          {formatQuantity(zeroSignal.value, zeroSignal.unit, job.decimalSign)}, taken at{' '}
          {formatQuantity(zeroExcitation.value, zeroExcitation.unit, job.decimalSign)}
        </span>
      ) : null}
      <Failed of={failure} small />
    </div>
  )
}
