import { useDecimalSign } from '../../parts/decimal-sign.ts'
import type { Store } from '../../state/store.ts'
import type { Trace } from './trace.ts'
import { momentText, type PlotArea } from './trend-plot.ts'
import { valuesIn, valuesText } from './value-at.ts'

const mostInOneColumn = 4

/** What every curve holds under the pointer, `x` pixels from the left of the chart: all that its pixel column was drawn from. */
export function UnderPointer(props: { x: number; area: PlotArea; traces: readonly Trace[]; store: Store; anchor: number }) {
  const { x, area, traces, store, anchor } = props
  const sign = useDecimalSign()
  if (x < area.left || x > area.right) return null
  const perPixel = (area.to - area.from) / Math.max(1, area.right - area.left)
  const at = area.from + (x - area.left) * perPixel
  const isLate = x > (area.left + area.right) / 2
  return (
    <>
      <div className="pointer-line" style={{ left: x, top: area.top, height: area.bottom - area.top }} />
      <div
        className={`under-pointer ${traces.length > mostInOneColumn ? 'is-long' : ''}`}
        style={{ top: area.top, ...(isLate ? { right: `calc(100% - ${x}px + 10px)` } : { left: x + 10 }) }}
        role="status"
        aria-label="Under the pointer"
        aria-live="off"
      >
        <span className="second">{momentText(anchor + at, area.to - area.from)}</span>
        {traces.map((trace) => {
          const values = valuesIn(store, trace, { from: at - perPixel / 2, to: at + perPixel / 2 })
          return (
            <span key={trace.pointId}>
              <b style={{ color: `var(--trace-${trace.colour})` }}>{trace.label}</b>{' '}
              {values ? valuesText(trace, values, sign) : <span className="second">no sample</span>}
            </span>
          )
        })}
      </div>
    </>
  )
}
