import { appliedWords } from '../../../app/applied-words.ts'
import { plusMinus } from '../../../app/quantity/format.ts'
import { inPointUnit } from '../../../app/scaling/gravity-ratio.ts'
import type { ScalingProposal } from '../../../app/scaling/propose-scaling.ts'
import type { TwoPairs } from '../../../app/scaling/scaling-values.ts'
import { fixedText, numberText, signedFixedText } from '../../figures/number-text.ts'
import { PlotFrame } from '../../figures/plot-frame.tsx'
import type { PointView } from '../../state/point-view.ts'
import { heldOff } from './held-off.ts'

/** Errors of the held and the proposed values over the load, and the measured loads about their line. */
export function ErrorAlongLoad({ view, proposal, pairs }: { view: PointView; proposal: ScalingProposal; pairs: TwoPairs }) {
  const { point, job } = view
  const sign = job.decimalSign
  const { quantity } = appliedWords(point)
  const maximum = Number(point.maximumLoad)
  const interval = Number(point.scaleInterval)
  const held = heldOff(view)
  const off = held?.intervals
  const best = pairs.rounding.atMaximum.intervals.valueOf()
  const band = point.tolerance ? Number(point.tolerance.value) / interval : 0.5
  const residuals = residualsOf(view, proposal)
  const scatter = residuals.map((r) => r.intervals)
  const greatest = Math.max(off ?? 0, best, band, ...scatter) * 1.1
  const least = Math.min(off ?? 0, best, -band, ...scatter) * 1.1
  return (
    <>
      <p className="second small">
        {point.tolerance ? `shaded: the tolerance, ${plusMinus(fixedText(band, 1, sign))} d` : 'shaded: half an interval'}; span only, a
        zero error is not shown
        {residuals.length > 0 ? `; points: measured ${quantity}s` : ''}
      </p>
      <PlotFrame
        label={`Error of held and proposed scaling along the ${quantity}, in scale intervals`}
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
                  held {signedFixedText(off, intervalDecimals(off), sign)}
                </text>
              </>
            )}
            {residuals.map((r) => (
              <circle key={r.load} className="residual" cx={x(r.load)} cy={y(r.intervals)} r={4}>
                <title>{`${numberText(String(r.load), sign)} ${point.unit}: ${signedFixedText(r.intervals, 2, sign)} d off the line`}</title>
              </circle>
            ))}
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

/** Of an error that large nobody needs the tenth, and there is no room for it. */
const intervalDecimals = (off: number) => (Math.abs(off) >= 100 ? 0 : 1)

/** Measured loads about the line, in scale intervals. */
function residualsOf({ point }: PointView, proposal: ScalingProposal): { load: number; intervals: number }[] {
  const perInterval = proposal.line.slope.mul(proposal.line.scaleInterval).valueOf()
  const loads = point.measured.loads ?? []
  return (proposal.residuals ?? []).flatMap((residual, i) => {
    const load = loads[i] && inPointUnit(loads[i].load, 'applied load', point)
    return load?.ok ? [{ load: load.value.valueOf(), intervals: residual.valueOf() / perInterval }] : []
  })
}

/** Keeps two labels at the end of the lines apart. */
const labelY = (own: number, other: number, above: boolean) => (Math.abs(own - other) >= 16 ? own : other + (above ? -16 : 16))
