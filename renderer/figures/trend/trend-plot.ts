import { Chart, type ChartConfiguration, LinearScale, LineController, LineElement, PointElement, type ScaleOptionsByType } from 'chart.js'
import annotationPlugin from 'chartjs-plugin-annotation'
import zoomPlugin from 'chartjs-plugin-zoom'
import type { DecimalSign } from '../../../app/quantity/format.ts'
import type { Store } from '../../state/store.ts'
import { type Bounds, steadyBounds, stepDecimals } from '../axis.ts'
import { decimate, type TracePoint } from '../decimate.ts'
import { clockText, fixedText } from '../number-text.ts'
import { endLabels } from './end-labels.ts'
import { dashOf, type Mark, type Trace } from './trace.ts'
import { type Span, type TrendView, timeTicks, windowFor } from './trend-view.ts'

Chart.register(LineController, LineElement, PointElement, LinearScale, annotationPlugin, zoomPlugin)

export type Shown = {
  traces: readonly Trace[]
  unit: string
  view: TrendView
  leastSpan: number
  marks: readonly Mark[]
  /** Levels to stay between, on the first axis. */
  limits: readonly number[]
  /** Each curve on a value axis of its own, or all on one. */
  scales: 'shared' | 'own'
  /** "relative" writes seconds before now instead of the time of day, and no names at the ends. */
  time: 'clock' | 'relative'
  sign: DecimalSign
  /** UTC instant of monotonic zero, milliseconds; NaN before it is known. */
  anchor: number
  label: string
}

/** What the eye sees of the chart now, in CSS pixels and milliseconds. */
export type PlotArea = Span & { left: number; right: number; top: number; bottom: number }

type Told = {
  /** The user has moved or narrowed the shown time by hand. */
  onHold(span: Span): void
  onArea(area: PlotArea): void
  /** Whether not one value was drawn so far: the axes then have no numbers. */
  onEmpty(empty: boolean): void
}

/** A hole longer than this breaks the line. */
const gapMs = 2_000
/** More value axes than this leave no room for the curves. */
const mostAxes = 4
const lineWidth = 1.5
/** A curve with more turns than pixel columns is a band whatever its width; a line wider than one device pixel costs thirty times as much. */
const hairline = () => 1 / devicePixelRatio
const axisWidth = 58
const tickWidth = 84
const unitWidth = 26

/**
 * Curves of live samples on a chart. Each draw thins the rings to the pixels of the chart before the chart sees anything,
 * so its cost does not depend on how fine the lines are drawn, and no spike is lost.
 */
export class TrendPlot {
  #chart: Chart<'line', TracePoint[]>
  #store: Store
  #shown: () => Shown
  #told: Told
  #bounds = new Map<string, Bounds>()
  #ahead = Number.NEGATIVE_INFINITY
  #newest = Number.NEGATIVE_INFINITY
  #area = ''
  #empty: boolean | undefined
  #destroyed = false

  constructor(canvas: HTMLCanvasElement, store: Store, shown: () => Shown, told: Told) {
    this.#store = store
    this.#shown = shown
    this.#told = told
    Chart.defaults.font.family = getComputedStyle(document.body).fontFamily
    Chart.defaults.font.size = 12
    this.#chart = new Chart(canvas, this.#configuration())
  }

  destroy(): void {
    this.#destroyed = true
    this.#chart.destroy()
  }

  /** The picture as it stands, on the ground of the page. */
  get canvas(): HTMLCanvasElement {
    return this.#chart.canvas
  }

  draw(): void {
    const { traces, view, marks, limits } = this.#shown()
    const span = this.#span(view)
    if (this.#destroyed) return
    if (!span) return this.#tellEmpty()
    const columns = Math.max(50, Math.floor(this.#chart.chartArea?.width ?? 400))
    const extremes = new Map<string, { least: number; greatest: number; leastSpan: number }>()
    for (const [i, trace] of traces.entries()) {
      const points = decimate(this.#store.ring(trace.pointId).between(span.from, span.to, trace.quantity), { ...span, columns, gap: gapMs })
      const factor = trace.factor ?? 1
      const axis = extremes.get(this.#axisOf(i)) ?? {
        least: Number.POSITIVE_INFINITY,
        greatest: Number.NEGATIVE_INFINITY,
        leastSpan: this.#leastSpan(trace),
      }
      for (const point of points) {
        point.y *= factor
        if (point.y < axis.least) axis.least = point.y
        if (point.y > axis.greatest) axis.greatest = point.y
      }
      extremes.set(this.#axisOf(i), axis)
      const dataset = this.#chart.data.datasets[i]
      if (dataset) Object.assign(dataset, { data: points, borderWidth: points.length > columns ? hairline() : lineWidth })
    }
    const scales = this.#chart.options.scales ?? {}
    Object.assign(scales['x'] ?? {}, { min: span.from, max: span.to })
    for (const [id, { least, greatest, leastSpan }] of extremes) {
      if (!Number.isFinite(least)) continue
      const bounds = steadyBounds(this.#bounds.get(id), least, greatest, leastSpan)
      this.#bounds.set(id, bounds)
      const axis = scales[id] as ScaleOptionsByType<'linear'> | undefined
      Object.assign(axis ?? {}, { min: bounds.from, max: bounds.to })
      Object.assign(axis?.ticks ?? {}, { stepSize: bounds.step })
    }
    const annotation = this.#chart.options.plugins?.annotation
    if (annotation) annotation.annotations = { ...markLines(marks, span, this.#paint), ...limitLines(limits, this.#paint) }
    this.#chart.update('none')
    this.#tellEmpty()
    this.#tellArea(span)
  }

  #tellEmpty(): void {
    const empty = this.#bounds.size === 0
    if (empty === this.#empty) return
    this.#empty = empty
    this.#told.onEmpty(empty)
  }

  /** All that can be shown: from the oldest sample of any curve to now. Undefined before the first sample. */
  known(): Span | undefined {
    const rings = this.#shown().traces.map((trace) => this.#store.ring(trace.pointId))
    const newest = Math.max(...rings.map((ring) => (ring.length > 0 ? ring.newest : Number.NEGATIVE_INFINITY)))
    if (!Number.isFinite(newest)) return undefined
    if (newest !== this.#newest) {
      this.#newest = newest
      this.#ahead = newest - performance.now()
    }
    const oldest = Math.min(...rings.map((ring) => (ring.length > 0 ? ring.oldest : Number.POSITIVE_INFINITY)))
    return { from: oldest, to: performance.now() + this.#ahead }
  }

  #span(view: TrendView): Span | undefined {
    const known = this.known()
    if (!known) return undefined
    return view.held ?? { from: known.to - windowFor(known.to - known.from, view.span), to: known.to }
  }

  #tellArea(span: Span): void {
    const { left, right, top, bottom } = this.#chart.chartArea
    const area = { ...span, left, right, top, bottom }
    // Fine enough for whoever listens while the chart runs on; one that is held may be narrower than that.
    const finest = this.#shown().view.held ? 1e-3 : 200
    const key = `${left} ${right} ${top} ${bottom} ${Math.round(span.from / finest)} ${Math.round(span.to / finest)}`
    if (key === this.#area) return
    this.#area = key
    this.#told.onArea(area)
  }

  #axisOf(trace: number): string {
    return this.#shown().scales === 'own' && trace > 0 ? `y${trace}` : 'y'
  }

  #leastSpan(trace: Trace): number {
    const { scales, leastSpan } = this.#shown()
    return scales === 'own' ? (trace.leastSpan ?? leastSpan) : leastSpan
  }

  #paint = (name: string) => getComputedStyle(document.documentElement).getPropertyValue(name).trim()

  #configuration(): ChartConfiguration<'line', TracePoint[]> {
    const { traces, time, scales } = this.#shown()
    const paint = this.#paint
    const handMoved = ({ chart }: { chart: Chart }) => {
      const x = chart.scales['x']
      if (x) this.#told.onHold({ from: x.min, to: x.max })
    }
    const axes =
      scales === 'own'
        ? traces.map((trace, i) => [this.#axisOf(i), this.#valueAxis(i, paint(`--trace-${trace.colour}`))] as const)
        : [['y', this.#valueAxis(0, paint('--ink-second'))] as const]
    return {
      type: 'line',
      data: {
        datasets: traces.map((trace, i) => ({
          data: [],
          yAxisID: this.#axisOf(i),
          borderColor: paint(`--trace-${trace.colour}`),
          borderDash: dashOf(trace),
          borderWidth: lineWidth,
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
        layout: { padding: { right: time === 'clock' ? 8 + labelWidth(traces) : 10, top: 8, left: 0, bottom: 0 } },
        plugins: {
          annotation: { annotations: {} },
          zoom: {
            pan: { enabled: time === 'clock', mode: 'x', onPan: handMoved },
            zoom: {
              mode: 'x',
              wheel: { enabled: time === 'clock', modifierKey: 'ctrl' },
              pinch: { enabled: time === 'clock' },
              onZoom: handMoved,
            },
          },
        },
        scales: { x: this.#timeAxis(paint), ...Object.fromEntries(axes) },
      },
      plugins: [
        endLabels(() => ({ traces: this.#shown().traces, unit: this.#shown().unit, own: scales === 'own', ends: time === 'clock' }), paint),
      ],
    }
  }

  #timeAxis(paint: (name: string) => string) {
    const { time } = this.#shown()
    const shown = this.#shown
    return {
      type: 'linear' as const,
      grid: { display: false },
      border: { color: paint('--rule-strong') },
      afterBuildTicks: (axis: { min: number; max: number; width: number; ticks: { value: number }[] }) => {
        const width = Math.max(200, axis.width)
        const clock = () => timeTicks({ from: axis.min, to: axis.max }, shown().anchor, Math.floor(width / tickWidth))
        // The unit stands below the foot of the value axis.
        const afterUnit = (at: number) => ((at - axis.min) / (axis.max - axis.min)) * width > unitWidth
        axis.ticks = (time === 'relative' ? [axis.min, axis.max] : clock().filter(afterUnit)).map((value) => ({ value }))
      },
      ticks: {
        color: paint('--ink-second'),
        maxRotation: 0,
        autoSkip: false,
        align: time === 'clock' ? ('center' as const) : ('inner' as const),
        callback(this: { min: number; max: number }, value: string | number) {
          if (time === 'relative') return Number(value) >= this.max - 1 ? 'now' : `\u2212${Math.round((this.max - Number(value)) / 1000)} s`
          return momentText(shown().anchor + Number(value), this.max - this.min)
        },
      },
    }
  }

  #valueAxis(trace: number, colour: string) {
    const shown = this.#shown
    const bounds = () => this.#bounds.get(this.#axisOf(trace))
    return {
      type: 'linear' as const,
      display: trace < mostAxes,
      position: 'left' as const,
      grid: { color: this.#paint('--rule'), drawTicks: false, drawOnChartArea: trace === 0 },
      border: { display: false },
      afterFit: (axis: { width: number }) => {
        axis.width = axisWidth
      },
      ticks: {
        color: colour,
        padding: 8,
        autoSkip: false,
        // Before the first sample of a curve its own axis has no numbers to show.
        callback: (value: string | number) => {
          const known = bounds()
          return known ? fixedText(Number(value), stepDecimals(known.step), shown().sign) : ''
        },
      },
    }
  }
}

/** Time of day; with tenths where less than ten seconds are shown, without seconds on the minute. */
export function momentText(instant: number, width: number): string {
  const text = clockText(new Date(instant))
  if (width < 10_000) return `${text}.${Math.floor((((instant % 1000) + 1000) % 1000) / 100)}`
  return text.endsWith(':00') ? text.slice(0, 5) : text
}

const labelWidth = (traces: readonly Trace[]) => Math.max(58, ...traces.map((t) => 8 + t.label.length * 7))

const limitLines = (limits: readonly number[], paint: (name: string) => string) =>
  Object.fromEntries(
    limits.map((at, i) => [
      `limit-${i}`,
      { type: 'line' as const, yMin: at, yMax: at, borderColor: paint('--ink-third'), borderWidth: 1, borderDash: [6, 4] },
    ]),
  )

const markLines = (marks: readonly Mark[], span: Span, paint: (name: string) => string) =>
  Object.fromEntries(
    marks.map((mark, i) => [
      `mark-${i}`,
      {
        type: 'line' as const,
        xMin: mark.at,
        xMax: mark.at,
        borderColor: paint('--ink-third'),
        borderWidth: 1,
        borderDash: [2, 3],
        label: {
          display: true,
          content: mark.label,
          position: 'end' as const,
          backgroundColor: 'transparent',
          color: paint('--ink-second'),
          font: { size: 12, weight: 'normal' as const },
          padding: 2,
          // To the right of its line; near the end there is room to the left alone.
          xAdjust: (4 + mark.label.length * 3) * (mark.at > span.from + 0.85 * (span.to - span.from) ? -1 : 1),
        },
      },
    ]),
  )
