import { roundStep } from './axis.ts'
import { numberText } from './number-text.ts'

const width = 300
const height = 110
const pieces = 5

/** The load as a stack of equal blocks on the ground: what is to be put on now, against the outline of maximum load. */
export function WeightStack({ load, maximum, unit }: { load: number; maximum: number; unit: string }) {
  const each = roundStep(maximum, 4 * pieces)
  const all = Math.max(1, Math.round(maximum / each))
  const on = Math.min(all, Math.round(load / each))
  const columns = Math.ceil(all / pieces)
  const w = Math.min(64, (width - 10) / columns - 6)
  return (
    <svg className="figure" width={width} height={height} role="img" aria-label={`${load} of ${maximum} ${unit}`}>
      {Array.from({ length: all }, (_, i) => {
        const column = Math.floor(i / pieces)
        const row = i % pieces
        const isOn = i < on
        return (
          <rect
            key={`${column} ${row}`}
            x={4 + column * (w + 6)}
            y={height - 22 - (row + 1) * 15}
            width={w}
            height={13}
            rx={2}
            fill={isOn ? 'var(--weight)' : 'none'}
            stroke={isOn ? 'var(--edge)' : 'var(--rule-strong)'}
            strokeDasharray={isOn ? undefined : '2 3'}
          />
        )
      })}
      <line x1={0} x2={width} y1={height - 20} y2={height - 20} stroke="var(--ink)" />
      <text x={4} y={height - 4}>
        one block is {numberText(String(each))} {unit}
      </text>
    </svg>
  )
}
