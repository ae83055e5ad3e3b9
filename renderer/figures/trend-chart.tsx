import { useMediaQuery } from '@mantine/hooks'
import { Chart, type ChartConfiguration, LinearScale, LineController, LineElement, type Plugin, PointElement } from 'chart.js'
import { useEffect, useRef } from 'react'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import { useHost, useTopic } from '../state/host-context.tsx'
import type { SampleQuantity } from '../state/sample-ring.ts'
import { type Bounds, steadyBounds, stepDecimals } from './axis.ts'
import { decimate, type TracePoint } from './decimate.ts'
import { clockText, fixedText } from './number-text.ts'

Chart.register(LineController, LineElement, PointElement, LinearScale)

export type Trace = { pointId: string; label: string; colour: 1 | 2 | 3 | 4; quantity: SampleQuantity; factor?: number }
export type Mark = { at: number; label: string }

const dashes: Record<Trace['colour'], number[]> = { 1: [], 2: [7, 3], 3: [2, 2], 4: [9, 3, 2, 3] }
/** A hole longer than this breaks the line. */
const gapMs = 2_000

/** Live samples over the last while, thinned to the pixels of the chart; drawn again five times a second unless frozen. */
export function TrendChart(props: {
  traces: readonly Trace[]
  unit: string
  /** Longest time shown; shorter steps are taken while there is less. */
  windowMs: number
  /** Least height of the value axis, so that noise is not blown up to fill it. */
  leastSpan: number
  marks?: readonly Mark[]
  frozen?: boolean
  /** "relative" writes seconds before now instead of the time of day. */
  time?: 'clock' | 'relative'
  label: string
  /** Told the time that is shown, whenever it changes. */
  onWindow?: (ms: number) => void
}) {
  const { store } = useHost()
  const anchor = useTopic('session')?.anchor
  const sign = useDecimalSign()
  const dark = useMediaQuery('(prefers-color-scheme: dark)')
  const canvas = useRef<HTMLCanvasElement>(null)
  const now = useRef(props)
  now.current = props
  const { unit, time = 'clock' } = props
  const shape = props.traces.map((t) => `${t.pointId} ${t.label} ${t.colour} ${t.quantity}`).join()

  // biome-ignore lint/correctness/useExhaustiveDependencies: the traces are followed by their shape; what changes with every sample is read through the ref
  useEffect(() => {
    if (!canvas.current) return
    const colour = paint()
    const anchorMs = anchor === undefined ? Number.NaN : Date.parse(anchor)
    let bounds: Bounds | undefined
    let ahead = Number.NEGATIVE_INFINITY
    let newestSeen = Number.NEGATIVE_INFINITY

    let told = Number.NaN
    Chart.defaults.font.family = getComputedStyle(document.body).fontFamily
    Chart.defaults.font.size = 12

    const config: ChartConfiguration<'line', TracePoint[]> = {
      type: 'line',
      data: {
        datasets: now.current.traces.map((trace) => ({
          data: [],
          borderColor: colour(`--trace-${trace.colour}`),
          borderDash: dashes[trace.colour],
          borderWidth: 1.5,
          borderJoinStyle: 'round',
          pointRadius: 0,
          pointHitRadius: 0,
          spanGaps: false,
          clip: 4,
        })),
      },
      options: {
        animation: false,
        parsing: false,
        normalized: true,
        responsive: true,
        maintainAspectRatio: false,
        events: [],
        layout: { padding: { right: time === 'clock' ? 66 : 10, top: 8, left: 0, bottom: 0 } },
        scales: {
          x: {
            type: 'linear',
            grid: { display: false },
            border: { color: colour('--rule-strong') },
            afterBuildTicks: (axis) => {
              axis.ticks = timeTicks(axis.min, axis.max, anchorMs, time)
            },
            ticks: {
              color: colour('--ink-second'),
              maxRotation: 0,
              autoSkip: false,
              align: time === 'clock' ? 'center' : 'inner',
              callback(value) {
                if (time === 'relative')
                  return Number(value) >= this.max - 1 ? 'now' : `\u2212${Math.round((this.max - Number(value)) / 1000)} s`
                const text = clockText(new Date(anchorMs + Number(value)))
                return text.endsWith(':00') ? text.slice(0, 5) : text
              },
            },
          },
          y: {
            type: 'linear',
            grid: { color: colour('--rule'), drawTicks: false },
            border: { display: false },
            afterFit: (axis) => {
              axis.width = 58
            },
            ticks: {
              color: colour('--ink-second'),
              padding: 8,
              autoSkip: false,
              callback: (value) => fixedText(Number(value), bounds ? stepDecimals(bounds.step) : 0, sign),
            },
          },
        },
      },
      plugins: [
        annotations(
          () => now.current,
          () => unit,
          colour,
        ),
      ],
    }
    const chart = new Chart(canvas.current, config)

    const draw = () => {
      const { traces, windowMs, leastSpan, frozen } = now.current
      if (frozen) return
      const rings = traces.map((trace) => store.ring(trace.pointId))
      const newest = Math.max(...rings.map((ring) => (ring.length > 0 ? ring.newest : Number.NEGATIVE_INFINITY)))
      if (!Number.isFinite(newest)) return
      if (newest !== newestSeen) {
        newestSeen = newest
        ahead = newest - performance.now()
      }
      const to = performance.now() + ahead
      const oldest = Math.min(...rings.map((ring) => ring.since(0, 'reading').at[0] ?? Number.POSITIVE_INFINITY))
      const shown = windowFor(to - oldest, windowMs)
      const from = to - shown
      if (shown !== told) {
        told = shown
        now.current.onWindow?.(shown)
      }
      const columns = Math.max(50, Math.floor(chart.chartArea?.width ?? 400))
      let [least, greatest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
      traces.forEach((trace, i) => {
        const thinned = decimate(rings[i]?.since(from, trace.quantity) ?? { at: new Float64Array(), value: new Float64Array() }, {
          from,
          to,
          columns,
          gap: gapMs,
        })
        const factor = trace.factor ?? 1
        const scaled = factor === 1 ? thinned : thinned.map(({ x, y }) => ({ x, y: y * factor }))
        for (const { y } of scaled) {
          if (y < least) least = y
          if (y > greatest) greatest = y
        }
        const dataset = chart.data.datasets[i]
        if (dataset) dataset.data = scaled
      })
      if (Number.isFinite(least)) bounds = steadyBounds(bounds, least, greatest, leastSpan)
      const { x, y } = chart.options.scales ?? {}
      if (x) Object.assign(x, { min: from, max: to })
      if (y && bounds) {
        Object.assign(y, { min: bounds.from, max: bounds.to })
        if (y.ticks) Object.assign(y.ticks, { stepSize: bounds.step })
      }
      chart.update('none')
    }
    draw()
    const timer = setInterval(draw, 200)
    return () => {
      clearInterval(timer)
      chart.destroy()
    }
  }, [store, shape, unit, time, anchor, dark, sign])

  return (
    <div className="trend-chart">
      <canvas ref={canvas} role="img" aria-label={props.label} />
    </div>
  )
}

const minute = 60_000

/** While there is little to show, a shorter window: one, two, five minutes. */
export function windowFor(heldMs: number, longestMs: number): number {
  if (longestMs < minute) return longestMs
  return [minute, 2 * minute, 5 * minute].find((w) => w >= heldMs && w <= longestMs) ?? longestMs
}

/** "Last 10 minutes", for the heading of a trend. */
export const windowText = (ms: number) => (ms <= minute ? 'Last minute' : `Last ${Math.round(ms / minute)} minutes`)

function timeTicks(from: number, to: number, anchorMs: number, time: 'clock' | 'relative') {
  if (time === 'relative') return [{ value: from }, { value: to }]
  if (Number.isNaN(anchorMs)) return []
  const span = to - from
  const step = span <= 1.01 * minute ? 15_000 : span <= 2.01 * minute ? 30_000 : span <= 5.01 * minute ? minute : 2 * minute
  const ticks = []
  for (let at = Math.ceil((anchorMs + from) / step) * step; at <= anchorMs + to; at += step) ticks.push({ value: at - anchorMs })
  return ticks
}

const paint = () => {
  const style = getComputedStyle(document.documentElement)
  return (name: string) => style.getPropertyValue(name).trim()
}

type Annotated = { traces: readonly Trace[]; marks?: readonly Mark[]; time?: 'clock' | 'relative' }

/** Trace names at the ends of the traces, marks as dotted lines, the unit at the foot of the value axis. */
function annotations(shown: () => Annotated, unit: () => string, colour: (name: string) => string): Plugin<'line'> {
  return {
    id: 'annotations',
    afterDatasetsDraw(chart) {
      const { ctx, chartArea, scales } = chart
      const { x, y } = scales
      if (!x || !y) return
      const family = getComputedStyle(document.body).fontFamily
      ctx.save()
      ctx.font = `12px ${family}`
      ctx.fillStyle = colour('--ink-second')
      ctx.textAlign = 'right'
      ctx.textBaseline = 'top'
      ctx.fillText(unit(), chartArea.left - 8, chartArea.bottom + 9)
      ctx.textAlign = 'left'
      for (const mark of shown().marks ?? []) {
        if (mark.at < x.min || mark.at > x.max) continue
        const at = Math.round(x.getPixelForValue(mark.at)) + 0.5
        ctx.strokeStyle = colour('--ink-third')
        ctx.setLineDash([2, 3])
        ctx.lineWidth = 1
        ctx.beginPath()
        ctx.moveTo(at, chartArea.top)
        ctx.lineTo(at, chartArea.bottom)
        ctx.stroke()
        ctx.setLineDash([])
        ctx.fillText(mark.label, at + 5, chartArea.top + 2)
      }
      if (shown().time !== 'relative') {
        ctx.font = `600 12px ${family}`
        ctx.textBaseline = 'middle'
        const ends = shown().traces.flatMap((trace, i) => {
          const last = (chart.data.datasets[i]?.data as TracePoint[] | undefined)?.findLast((p) => !Number.isNaN(p.y))
          return last ? [{ trace, at: Math.min(Math.max(y.getPixelForValue(last.y), chartArea.top), chartArea.bottom) }] : []
        })
        ends.sort((a, b) => a.at - b.at)
        let free = Number.NEGATIVE_INFINITY
        for (const { trace, at } of ends) {
          const line = Math.max(at, free)
          ctx.fillStyle = colour(`--trace-${trace.colour}`)
          ctx.fillText(trace.label, chartArea.right + 8, line)
          free = line + 16
        }
      }
      ctx.restore()
    },
  }
}
