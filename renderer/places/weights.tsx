import { numberText } from '../figures/number-text.ts'
import { useDecimalSign } from '../parts/decimal-sign.ts'

export type Column = { load: string; state: 'taken' | 'now' | 'to come' }

const plates = 5

/** The loads of the check as stacks on a platform: taken ones filled, the one to apply now outlined in dashes. */
export function Weights({
  columns,
  unit,
  nothing,
}: {
  columns: readonly Column[]
  unit: string
  /** What nought is called. */
  nothing: string
}) {
  const sign = useDecimalSign()
  const width = 84
  const most = Math.max(Number.MIN_VALUE, ...columns.map((c) => Math.abs(Number(c.load))))
  return (
    <svg
      className="weights"
      viewBox={`0 0 ${columns.length * width + 8} 128`}
      role="img"
      aria-label={columns.map((c) => `${c.load} ${unit} ${c.state}`).join(', ')}
    >
      {columns.map((c, i) => {
        const left = i * width + 8
        const on = Math.ceil((plates * Math.abs(Number(c.load))) / most)
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: the steps of a check are known by their place
          <g key={i}>
            <text className={`weight-label is-${c.state.replace(' ', '-')}`} x={left + 34} y={14} textAnchor="middle">
              {c.load === '' ? '–' : Number(c.load) === 0 ? nothing : `${numberText(c.load, sign)} ${unit}`}
            </text>
            {Array.from({ length: on }, (_, n) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: plates of a drawing
              <rect key={n} className={`weight is-${c.state.replace(' ', '-')}`} x={left} y={104 - n * 17} width={68} height={14} rx={3} />
            ))}
            {on === 0 ? (
              <line className={`weight-floor is-${c.state.replace(' ', '-')}`} x1={left} x2={left + 68} y1={116} y2={116} />
            ) : null}
          </g>
        )
      })}
      <line className="platform" x1={0} x2={columns.length * width + 8} y1={121} y2={121} />
    </svg>
  )
}
