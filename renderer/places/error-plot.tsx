import { appliedWords } from '../../app/applied-words.ts'
import { asJudged } from '../../app/evaluation/as-judged.ts'
import type { QuickCheck } from '../../app/job/schema.ts'
import { plusMinus } from '../../app/quantity/format.ts'
import { isSuperseded, judgeCheck } from '../chain/judge-check.ts'
import { fixedText, numberText, signedFixedText } from '../figures/number-text.ts'
import { PlotFrame } from '../figures/plot-frame.tsx'
import type { PointView } from '../state/point-view.ts'

/** Errors of a check over the load, in scale intervals, against the tolerance: round within, triangle outside. */
export function ErrorAgainstTolerance({ view, check }: { view: PointView; check: QuickCheck | undefined }) {
  const { job } = view
  const point = check ? asJudged(check, view.point) : view.point
  const sign = job.decimalSign
  const interval = Number(point.scaleInterval)
  const tolerance = point.tolerance ? Number(point.tolerance.value) / interval : undefined
  const steps = check ? judgeCheck(view, check).steps : []
  const old = check ? isSuperseded(view, check) : false
  const errors = steps.map((s) => s.intervals.valueOf())
  const reach = Math.max(tolerance ?? 0, 1, ...errors.map(Math.abs)) * 1.25
  const maximum = Number(point.maximumLoad)
  const worst = errors.reduce((at, e, i) => (Math.abs(e) > Math.abs(errors[at] ?? 0) ? i : at), 0)
  return (
    <>
      <p className="second small">
        {tolerance === undefined
          ? 'no tolerance set'
          : `dashed: ${plusMinus(numberText(point.tolerance?.value ?? '', sign))} ${point.unit} = ${plusMinus(fixedText(tolerance, 1, sign))} d`}
        {old ? ' · superseded' : ''}
      </p>
      <PlotFrame
        label={`Errors of the check over the ${appliedWords(point).quantity}, in scale intervals`}
        maximum={maximum}
        loadUnit={point.unit}
        least={-reach}
        greatest={reach}
        unit="d"
      >
        {({ x, y }) => (
          <>
            {tolerance === undefined
              ? null
              : [tolerance, -tolerance].map((t) => <line key={t} className="plot-limit" x1={x(0)} x2={x(maximum)} y1={y(t)} y2={y(t)} />)}
            {steps.map((step, i) => (
              <Marker
                key={check?.steps[i]?.at}
                at={{ x: x(Math.min(step.load.valueOf(), maximum)), y: y(errors[i] ?? 0) }}
                outside={step.withinTolerance === false}
                again={i > 0 && step.load.equals(steps[0]?.load ?? 0)}
                old={old}
                label={i === worst && steps.length > 1 && errors[i] ? signedFixedText(errors[i] ?? 0, 1, sign) : undefined}
              />
            ))}
          </>
        )}
      </PlotFrame>
    </>
  )
}

/** Filled round within, ring for the zero taken again, triangle outside; dashed once superseded. */
function Marker(props: { at: { x: number; y: number }; outside: boolean; again: boolean; old: boolean; label: string | undefined }) {
  const { at, outside, again, old, label } = props
  return (
    <g className={old ? 'plot-old' : ''}>
      {outside ? (
        <path className="point-outside" d={`M${at.x} ${at.y - 6} l6.5 11 h-13z`} />
      ) : (
        <circle className={again ? 'point-again' : 'point-within'} cx={at.x} cy={at.y} r={again ? 7 : 4} />
      )}
      {label === undefined ? null : (
        <text className={`end-label ${outside ? 'is-outside' : 'trace-1'}`} x={at.x + (again ? 12 : 10)} y={at.y + 4}>
          {label}
        </text>
      )}
    </g>
  )
}
