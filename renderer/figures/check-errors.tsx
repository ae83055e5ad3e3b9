import { roundBounds, stepDecimals } from './axis.ts'
import { numberText, signedFixedText } from './number-text.ts'

const width = 350
const height = 230
const area = { left: 52, right: 336, top: 12, bottom: 200 }

/** Error of each captured load against the tolerance, in the point's unit. */
export function CheckErrors({
  steps,
  maximum,
  tolerance,
  unit,
}: {
  steps: readonly { id: string; load: number; error: number }[]
  maximum: number
  tolerance: number | undefined
  unit: string
}) {
  const far = Math.max(tolerance ?? 0, ...steps.map((s) => Math.abs(s.error))) * 1.2 || 1
  const bounds = roundBounds(-far, far, 0)
  const y = (v: number) => area.bottom - ((v - bounds.from) / (bounds.to - bounds.from)) * (area.bottom - area.top)
  const x = (load: number) => area.left + (load / Math.max(maximum, ...steps.map((s) => s.load))) * (area.right - area.left)
  const ticks = Array.from({ length: Math.round((bounds.to - bounds.from) / bounds.step) + 1 }, (_, i) => bounds.from + i * bounds.step)
  const places = stepDecimals(bounds.step)
  return (
    <svg
      className="figure"
      width={width}
      height={height}
      role="img"
      aria-label={steps.map((s) => `at ${s.load} ${unit} error ${s.error.toFixed(2)}`).join(', ')}
    >
      {ticks.map((t) => (
        <g key={t}>
          <line x1={area.left} x2={area.right} y1={y(t)} y2={y(t)} stroke={Math.abs(t) < 1e-9 ? 'var(--ink-second)' : 'var(--rule)'} />
          <text x={area.left - 6} y={y(t) + 4} textAnchor="end">
            {signedFixedText(t, places)}
          </text>
        </g>
      ))}
      {tolerance === undefined
        ? null
        : [tolerance, -tolerance].map((limit) => (
            <line key={limit} x1={area.left} x2={area.right} y1={y(limit)} y2={y(limit)} stroke="var(--ink-second)" strokeDasharray="5 4" />
          ))}
      {steps.map((s) => {
        const outside = tolerance !== undefined && Math.abs(s.error) > tolerance * (1 + 1e-9)
        const at = { x: x(s.load), y: y(s.error) }
        return outside ? (
          <rect key={s.id} x={at.x - 5} y={at.y - 5} width={10} height={10} fill="var(--lost)" />
        ) : (
          <circle key={s.id} cx={at.x} cy={at.y} r={5} fill="var(--trace-1)" />
        )
      })}
      <text x={area.left} y={height - 8}>
        0
      </text>
      <text x={area.right} y={height - 8} textAnchor="end">
        {numberText(String(maximum))} {unit}
      </text>
    </svg>
  )
}
