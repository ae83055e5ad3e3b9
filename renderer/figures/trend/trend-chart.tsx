import { useMediaQuery } from '@mantine/hooks'
import { type ReactNode, type RefObject, useEffect, useRef, useState } from 'react'
import { useDecimalSign } from '../../parts/decimal-sign.ts'
import { useHost, useTopic } from '../../state/host-context.tsx'
import type { Trace } from './trace.ts'
import { type PlotArea, type Shown, TrendPlot } from './trend-plot.ts'
import type { Span } from './trend-view.ts'

/** A running curve is drawn again this often; finer than the eye follows, coarser than the samples come. */
const drawEveryMs = 50

export type TrendChartProps = Omit<Shown, 'sign' | 'anchor' | 'marks' | 'limits' | 'scales' | 'time'> &
  Partial<Pick<Shown, 'marks' | 'limits' | 'scales' | 'time'>> & {
    onHold?: (span: Span) => void
    onArea?: (area: PlotArea) => void
    plot?: RefObject<TrendPlot | null>
    /** Laid over the curves. */
    children?: ReactNode
  }

const shapeOf = (traces: readonly Trace[]) =>
  traces.map((t) => `${t.pointId} ${t.label} ${t.colour} ${t.second ?? ''} ${t.quantity} ${t.factor ?? 1}`).join()

/** Live samples over time. Times are monotonic milliseconds of the host. */
export function TrendChart(props: TrendChartProps) {
  const { store } = useHost()
  const anchor = useTopic('session')?.anchor
  const sign = useDecimalSign()
  const dark = useMediaQuery('(prefers-color-scheme: dark)')
  const still = useMediaQuery('(prefers-reduced-motion: reduce)')
  const canvas = useRef<HTMLCanvasElement>(null)
  const now = useRef(props)
  now.current = props
  const { unit, time = 'clock', scales = 'shared', view } = props
  const shape = shapeOf(props.traces)
  const [plot, setPlot] = useState<TrendPlot | null>(null)
  const [empty, setEmpty] = useState(true)

  // biome-ignore lint/correctness/useExhaustiveDependencies: the traces are followed by their shape; what changes with every sample is read through the ref
  useEffect(() => {
    if (!canvas.current) return
    const shown = (): Shown => ({
      marks: [],
      limits: [],
      ...now.current,
      scales,
      time,
      sign,
      anchor: anchor === undefined ? Number.NaN : Date.parse(anchor),
    })
    const made = new TrendPlot(canvas.current, store, shown, {
      onHold: (span) => now.current.onHold?.(span),
      onArea: (area) => now.current.onArea?.(area),
      onEmpty: setEmpty,
    })
    setPlot(made)
    if (now.current.plot) now.current.plot.current = made
    made.draw()
    return () => made.destroy()
  }, [store, shape, unit, time, scales, anchor, dark, sign])

  // biome-ignore lint/correctness/useExhaustiveDependencies: a held chart is drawn once for what it is held at and for its marks
  useEffect(() => {
    plot?.draw()
    if (!plot || view.held) return
    const timer = setInterval(() => plot.draw(), still ? 1_000 : drawEveryMs)
    return () => clearInterval(timer)
  }, [plot, view, still, props.marks])

  return (
    <div className={`trend-chart ${empty ? 'is-empty' : ''}`}>
      <canvas ref={canvas} role="img" aria-label={props.label} />
      {empty ? (
        <p className="second">
          {props.traces.length === 0 ? 'Nothing to draw here.' : 'No sample yet. The curve begins with the first reading.'}
        </p>
      ) : null}
      {props.children}
    </div>
  )
}
