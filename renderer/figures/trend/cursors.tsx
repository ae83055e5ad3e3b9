import type { KeyboardEvent, PointerEvent } from 'react'
import type { DecimalSign } from '../../../app/quantity/format.ts'
import { pressed } from '../../frame/key-table.ts'
import { useDecimalSign } from '../../parts/decimal-sign.ts'
import type { Store } from '../../state/store.ts'
import { fixedText, signedFixedText } from '../number-text.ts'
import type { Trace } from './trace.ts'
import { momentText, type PlotArea } from './trend-plot.ts'
import { decimalsFor, valueNear } from './value-at.ts'

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

/** What a curve holds at both cursors, from the samples themselves, and the difference, as texts. */
function compared(cursors: Cursors, trace: Trace, store: Store, sign: DecimalSign) {
  const decimals = decimalsFor(trace)
  const unit = trace.unit ?? ''
  const [a, b] = [cursors.a, cursors.b].map((at) => valueNear(store, trace, at))
  const text = (value: number | undefined) => (value === undefined ? 'no sample' : `${fixedText(value, decimals, sign)} ${unit}`)
  return { a: text(a), b: text(b), apart: a === undefined || b === undefined ? '–' : `${signedFixedText(b - a, decimals, sign)} ${unit}` }
}

const cursorHeads = ({ a, b }: Cursors, anchor: number, sign: DecimalSign) => ({
  a: `A ${momentText(anchor + a, 1)}`,
  b: `B ${momentText(anchor + b, 1)}`,
  apart: `B − A, ${fixedText((b - a) / 1000, 2, sign)} s`,
})

/** The same as `CursorReadout` in lines of text, for a picture. */
export function cursorLines(cursors: Cursors, traces: readonly Trace[], store: Store, anchor: number, sign: DecimalSign): string[] {
  const head = cursorHeads(cursors, anchor, sign)
  return [
    `${head.a} · ${head.b} · ${head.apart}`,
    ...traces.map((trace) => {
      const { a, b, apart } = compared(cursors, trace, store, sign)
      return `${trace.label}: A ${a} · B ${b} · ${apart}`
    }),
  ]
}

export function CursorReadout(props: { cursors: Cursors; traces: readonly Trace[]; store: Store; anchor: number }) {
  const { cursors, traces, store, anchor } = props
  const sign = useDecimalSign()
  const head = cursorHeads(cursors, anchor, sign)
  return (
    <table className="cursor-readout">
      <thead>
        <tr>
          <th scope="col">Cursors</th>
          <th scope="col">{head.a}</th>
          <th scope="col">{head.b}</th>
          <th scope="col">{head.apart}</th>
        </tr>
      </thead>
      <tbody>
        {traces.map((trace) => {
          const { a, b, apart } = compared(cursors, trace, store, sign)
          return (
            <tr key={trace.pointId}>
              <th scope="row" style={{ color: `var(--trace-${trace.colour})` }}>
                {trace.label}
              </th>
              <td>{a}</td>
              <td>{b}</td>
              <td>{apart}</td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}
