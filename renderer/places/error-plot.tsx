import type { QuickCheck } from '../../app/job/schema.ts'
import { isSuperseded, judgeCheck } from '../chain/judge-check.ts'
import { numberText, signedFixedText } from '../figures/number-text.ts'
import { PlotFrame } from '../figures/plot-frame.tsx'
import type { PointView } from '../state/point-view.ts'

/** Errors of a check over the load, in scale intervals, against the tolerance: round within, triangle outside. */
export function ErrorAgainstTolerance({ view, check }: { view: PointView; check: QuickCheck | undefined }) {
  const { point, job } = view
  const sign = job.decimalSign
  const interval = Number(point.scaleInterval)
  const tolerance = point.tolerance ? Number(point.tolerance.value) / interval : undefined
  const steps = check ? judgeCheck(check, point).steps : []
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
          : `dashed: ± ${numberText(point.tolerance?.value ?? '', sign)} ${point.unit} = ${signedFixedText(tolerance, 1, sign).replace('+', '± ')} d`}
        {old ? ' · superseded by new scaling values' : ''}
      </p>
      <PlotFrame
        label="Errors of the check over the load, in scale intervals"
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
            {steps.map((s, i) => {
              const [cx, cy] = [x(Math.min(s.load.valueOf(), maximum)), y(errors[i] ?? 0)]
              const outside = s.withinTolerance === false
              // biome-ignore lint/suspicious/noArrayIndexKey: the steps of a check are known by their place
              return (
                <g key={i} className={old ? 'plot-old' : ''}>
                  {outside ? (
                    <path className="point-outside" d={`M${cx} ${cy - 6} l6.5 11 h-13z`} />
                  ) : (
                    <circle className={i > 0 && s.load.equals(0) ? 'point-again' : 'point-within'} cx={cx} cy={cy} r={4.5} />
                  )}
                  {i === worst && steps.length > 1 ? (
                    <text className={`end-label ${outside ? 'is-outside' : 'trace-1'}`} x={cx + 10} y={cy + 4}>
                      {signedFixedText(errors[i] ?? 0, 1, sign)}
                    </text>
                  ) : null}
                </g>
              )
            })}
          </>
        )}
      </PlotFrame>
    </>
  )
}
