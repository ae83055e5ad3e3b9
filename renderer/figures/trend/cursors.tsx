import type { KeyboardEvent, PointerEvent } from 'react'
import { pressed } from '../../frame/key-table.ts'
import { useDecimalSign } from '../../parts/decimal-sign.ts'
import type { Store } from '../../state/store.ts'
import { fixedText, signedFixedText } from '../number-text.ts'
import type { Trace } from './trace.ts'
import { momentText, type PlotArea } from './trend-plot.ts'

export type Cursors = { a: number; b: number }

/** Two upright lines over the curves, moved by pointer or arrow keys. */
export function CursorLines(props: { cursors: Cursors; area: PlotArea; anchor: number; onMove: (cursors: Cursors) => void }) {
  const { cursors, area, anchor, onMove } = props
  const perPixel = (area.to - area.from) / Math.max(1, area.right - area.left)
  const move = (name: keyof Cursors, at: number) => onMove({ ...cursors, [name]: Math.min(Math.max(at, area.from), area.to) })
  return (['a', 'b'] as const).map((name) => {
    const at = cursors[name]
    if (at < area.from || at > area.to) return null
    const onKeyDown = (event: KeyboardEvent) => {
      const step = perPixel * (event.shiftKey ? 20 : 1)
      const to = { ArrowLeft: at - step, ArrowRight: at + step, Home: area.from, End: area.to }[event.key]
      if (to === undefined || !(pressed(event, 'cursor') || pressed(event, 'cursorEnds'))) return
      event.preventDefault()
      move(name, to)
    }
    const onPointerMove = (event: PointerEvent<HTMLElement>) => {
      if (!event.currentTarget.hasPointerCapture(event.pointerId)) return
      const left = event.currentTarget.parentElement?.getBoundingClientRect().left ?? 0
      move(name, area.from + (event.clientX - left - area.left) * perPixel)
    }
    return (
      <div
        key={name}
        className="cursor-line"
        style={{ left: area.left + (at - area.from) / perPixel, top: area.top, height: area.bottom - area.top }}
        role="slider"
        tabIndex={0}
        data-own-keys
        aria-label={`Cursor ${name.toUpperCase()}`}
        aria-valuemin={Math.round(area.from)}
        aria-valuemax={Math.round(area.to)}
        aria-valuenow={Math.round(at)}
        aria-valuetext={momentText(anchor + at, 1)}
        onKeyDown={onKeyDown}
        onPointerDown={(event) => {
          event.stopPropagation()
          event.currentTarget.setPointerCapture(event.pointerId)
        }}
        onPointerMove={onPointerMove}
      >
        <span>{name.toUpperCase()}</span>
      </div>
    )
  })
}

/** What the curves hold at both cursors, from the samples themselves, and the differences. */
export function CursorReadout(props: { cursors: Cursors; traces: readonly Trace[]; store: Store; anchor: number }) {
  const { cursors, traces, store, anchor } = props
  const sign = useDecimalSign()
  return (
    <table className="cursor-readout">
      <thead>
        <tr>
          <th scope="col">Cursors</th>
          <th scope="col">A {momentText(anchor + cursors.a, 1)}</th>
          <th scope="col">B {momentText(anchor + cursors.b, 1)}</th>
          <th scope="col">B − A, {fixedText((cursors.b - cursors.a) / 1000, 2, sign)} s</th>
        </tr>
      </thead>
      <tbody>
        {traces.map((trace) => {
          const decimals = decimalsFor(trace)
          const [a, b] = [cursors.a, cursors.b].map((at) => valueNear(store, trace, at))
          const text = (value: number | undefined) =>
            value === undefined ? 'no sample' : `${fixedText(value, decimals, sign)} ${trace.unit ?? ''}`
          return (
            <tr key={trace.pointId}>
              <th scope="row" style={{ color: `var(--trace-${trace.colour})` }}>
                {trace.label}
              </th>
              <td>{text(a)}</td>
              <td>{text(b)}</td>
              <td>{a === undefined || b === undefined ? '–' : `${signedFixedText(b - a, decimals, sign)} ${trace.unit ?? ''}`}</td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}

/** Further from any sample than this the cursor stands on nothing. */
const nearMs = 1_000

function valueNear(store: Store, trace: Trace, at: number): number | undefined {
  const sample = store.ring(trace.pointId).nearest(at, trace.quantity)
  if (!sample || Math.abs(sample.at - at) > nearMs || Number.isNaN(sample.value)) return undefined
  return sample.value * (trace.factor ?? 1)
}

/** Least height of the axis is twenty scale intervals; one decimal finer than an interval is worth showing, no more. */
const decimalsFor = ({ leastSpan = 20 }: Trace) => Math.max(0, Math.ceil(-Math.log10(leastSpan / 20)))
