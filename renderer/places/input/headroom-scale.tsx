import { useElementSize } from '@mantine/hooks'
import type { AppliedWords } from '../../../app/applied-words.ts'
import type { Headroom } from '../../../app/scaling/headroom.ts'
import { fixedText } from '../../figures/number-text.ts'
import { useDecimalSign } from '../../parts/decimal-sign.ts'

const top = 14
const bottom = 14
const axis = { x: 74, width: 14 }
const labelGap = 18

type Label = { text: string; value: number; kind: 'limit' | 'expected' }

/** Pushes labels apart downwards and back up, so that none lies on another; keeps their order. */
export function spreadLabels(wanted: readonly number[], gap: number, from: number, to: number): number[] {
  const order = wanted.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y)
  let least = from
  for (const l of order) {
    l.y = Math.max(l.y, least)
    least = l.y + gap
  }
  let most = to
  for (const l of [...order].reverse()) {
    l.y = Math.min(l.y, most)
    most = l.y - gap
  }
  const placed = new Array<number>(wanted.length).fill(0)
  for (const l of order) placed[l.i] = l.y
  return placed
}

/** What is written beside the scale, in the words of what is applied. */
export function labelsOf(room: Headroom, words: AppliedWords, number: (value: number) => string): Label[] {
  const size = room.limits?.size.valueOf()
  const [zero, maximum, margin] = [room.zero.valueOf(), room.maximum.valueOf(), room.withMargin.valueOf()]
  return [
    ...(size === undefined
      ? []
      : [{ text: `limit ${room.limits?.means ?? ''}, ${room.limits?.origin ?? ''}`, value: size, kind: 'limit' as const }]),
    ...(size !== undefined && room.limits?.bothSides ? [{ text: `limit ${number(-size)}`, value: -size, kind: 'limit' as const }] : []),
    { text: `${number(margin)} with ${words.excess} margin`, value: margin, kind: 'expected' },
    { text: `${number(maximum)} ${words.maximum.replace(/^the /, '')}, expected`, value: maximum, kind: 'expected' },
    { text: `${number(zero)} zero, ${room.zeroFrom === 'measured' ? 'measured' : 'expected'}`, value: zero, kind: 'expected' },
  ]
}

/** The input as a vertical scale: its limits, where zero and maximum load are expected, the margin above, and the live signal moving in it. */
export function HeadroomScale(props: { room: Headroom; words: AppliedWords; live: number | undefined; stale: boolean }) {
  const { room, words, live, stale } = props
  const sign = useDecimalSign()
  const { ref, width, height } = useElementSize()
  const decimals = room.unit === 'mV/V' ? 4 : 3
  const size = room.limits?.size.valueOf()
  const below = size !== undefined && room.limits?.bothSides ? -size : 0
  const [zero, maximum, margin] = [room.zero.valueOf(), room.maximum.valueOf(), room.withMargin.valueOf()]
  const least = Math.min(below, zero, live ?? 0)
  const greatest = Math.max(size ?? 0, margin, live ?? 0)
  const inner = Math.max(60, height - top - bottom)
  const y = (value: number) => top + ((greatest - value) / (greatest - least || 1)) * inner
  const number = (value: number) => fixedText(value, decimals, sign)
  const labels = labelsOf(room, words, number)
  const placed = spreadLabels(
    labels.map((l) => y(l.value)),
    labelGap,
    top,
    height - bottom,
  )
  const right = axis.x + axis.width
  return (
    <div className="headroom" ref={ref}>
      {width > 0 ? (
        <svg width={width} height={height} role="img" aria-label={`Room in the input, ${room.unit}`}>
          {size === undefined ? (
            <line className="plot-rule" x1={axis.x + axis.width / 2} x2={axis.x + axis.width / 2} y1={top} y2={height - bottom} />
          ) : (
            <rect className="headroom-range" x={axis.x} width={axis.width} y={y(size)} height={y(below) - y(size)} />
          )}
          <rect className="headroom-margin" x={axis.x} width={axis.width} y={y(margin)} height={Math.max(0, y(maximum) - y(margin))} />
          <rect className="headroom-span" x={axis.x} width={axis.width} y={y(maximum)} height={Math.max(1, y(zero) - y(maximum))} />
          {size !== undefined && margin > size ? (
            <rect className="headroom-over" x={axis.x} width={axis.width} y={y(margin)} height={y(Math.max(size, zero)) - y(margin)} />
          ) : null}
          {labels.map((l, i) => (
            <g key={l.text}>
              <path className="headroom-leader" d={`M${right} ${y(l.value)} h6 L${right + 16} ${placed[i] ?? 0} h6`} />
              <text className={l.kind === 'limit' ? 'headroom-limit' : 'plot-tick'} x={right + 26} y={(placed[i] ?? 0) + 4}>
                {l.text}
              </text>
            </g>
          ))}
          {live === undefined ? null : (
            <g className={stale ? 'headroom-stale' : 'headroom-live'} transform={`translate(0 ${y(live)})`}>
              <path d={`M${axis.x - 2} 0 l-9 -5.5 v11 z`} />
              <line x1={axis.x} x2={right} y1="0" y2="0" />
              <text x={axis.x - 14} y="4" textAnchor="end">
                {number(live)}
              </text>
            </g>
          )}
        </svg>
      ) : null}
    </div>
  )
}
