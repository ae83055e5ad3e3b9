import { roundBounds } from './axis.ts'
import { numberText, signedFixedText } from './number-text.ts'

type Line = { label: string; atMaximum: number; colour: 1 | 2 | 3 | 4 }

const width = 360
const height = 300
const area = { left: 44, right: 246, top: 14, bottom: 268 }
const leastLabelGap = 16

/** Straight lines of error against load in scale intervals, half an interval shaded: inside it nothing shows on the display. */
export function ErrorAlongLoad({ maximum, unit, lines }: { maximum: number; unit: string; lines: readonly Line[] }) {
  const values = [0, ...lines.map((l) => l.atMaximum)]
  const bounds = roundBounds(Math.min(...values), Math.max(...values), 2)
  const y = (v: number) => area.bottom - ((v - bounds.from) / (bounds.to - bounds.from)) * (area.bottom - area.top)
  const ticks = Array.from({ length: Math.round((bounds.to - bounds.from) / bounds.step) + 1 }, (_, i) => bounds.from + i * bounds.step)
  const labels = lines.map((l) => ({ ...l, y: y(l.atMaximum) })).toSorted((a, b) => a.y - b.y)
  for (const [i, l] of labels.entries()) if (i > 0) l.y = Math.max(l.y, (labels[i - 1]?.y ?? 0) + leastLabelGap)
  return (
    <svg
      className="figure"
      width={width}
      height={height}
      role="img"
      aria-label={lines.map((l) => `${l.label} ${l.atMaximum.toFixed(2)} scale intervals at maximum load`).join(', ')}
    >
      <rect x={area.left} width={area.right - area.left} y={y(0.5)} height={y(-0.5) - y(0.5)} fill="var(--action-ground)" />
      {ticks.map((t) => (
        <g key={t}>
          <line x1={area.left} x2={area.right} y1={y(t)} y2={y(t)} stroke="var(--rule)" />
          <text x={area.left - 6} y={y(t) + 4} textAnchor="end">
            {signedFixedText(t, bounds.step < 1 ? 1 : 0)}
          </text>
        </g>
      ))}
      <text x={area.left - 6} y={height - 14} textAnchor="end">
        d
      </text>
      <text x={area.left} y={height - 14}>
        0
      </text>
      <text x={area.right} y={height - 14} textAnchor="end">
        {numberText(String(maximum))} {unit}
      </text>
      {lines.map((l) => (
        <line
          key={l.label}
          x1={area.left}
          y1={y(0)}
          x2={area.right}
          y2={y(l.atMaximum)}
          stroke={`var(--trace-${l.colour})`}
          strokeWidth={2}
          strokeDasharray={l.colour === 1 ? undefined : '7 3'}
        />
      ))}
      {labels.map((l) => (
        <text key={l.label} x={area.right + 6} y={l.y + 4} color={`var(--trace-${l.colour})`} className="trace-label">
          {l.label} {signedFixedText(l.atMaximum, 2)}
        </text>
      ))}
    </svg>
  )
}
