import type { Plugin } from 'chart.js'
import type { TracePoint } from '../decimate.ts'
import type { Trace } from './trace.ts'

const lineHeight = 16

/** Names at the ends of the curves instead of a legend, kept apart, and the unit at the foot of the value axis. */
export function endLabels(
  shown: () => { traces: readonly Trace[]; unit: string; own: boolean; ends: boolean },
  paint: (name: string) => string,
): Plugin<'line'> {
  return {
    id: 'end-labels',
    afterDatasetsDraw(chart) {
      const { ctx, chartArea } = chart
      const { traces, unit, own, ends } = shown()
      const family = getComputedStyle(document.body).fontFamily
      ctx.save()
      ctx.font = `12px ${family}`
      ctx.textAlign = 'right'
      ctx.textBaseline = 'top'
      const axes = own
        ? traces.map((t) => ({ text: t.unit ?? '', colour: `--trace-${t.colour}` }))
        : [{ text: unit, colour: '--ink-second' }]
      for (const [i, { text, colour }] of axes.entries()) {
        const axis = chart.scales[String(chart.data.datasets[i]?.yAxisID ?? 'y')]
        if (!axis?.options.display) continue
        ctx.fillStyle = paint(colour)
        ctx.fillText(text, axis.right - 8, chartArea.bottom + 9)
      }
      if (ends) {
        ctx.font = `600 12px ${family}`
        ctx.textAlign = 'left'
        ctx.textBaseline = 'middle'
        const lines = traces.flatMap((trace, i) => {
          const last = (chart.data.datasets[i]?.data as TracePoint[] | undefined)?.findLast((p) => !Number.isNaN(p.y))
          const axis = chart.scales[String(chart.data.datasets[i]?.yAxisID ?? 'y')]
          if (!last || !axis) return []
          return [{ trace, at: Math.min(Math.max(axis.getPixelForValue(last.y), chartArea.top), chartArea.bottom) }]
        })
        for (const { item, at } of apart(
          lines,
          Math.min(lineHeight, (chartArea.bottom - chartArea.top) / lines.length),
          chartArea.bottom,
        )) {
          ctx.fillStyle = paint(`--trace-${item.trace.colour}`)
          ctx.fillText(item.trace.label, chartArea.right + 8, at)
        }
      }
      ctx.restore()
    },
  }
}

/** Moves what would overlap downwards, and the whole pile up again where it would run out below `bottom`. */
export function apart<T extends { at: number }>(items: readonly T[], height: number, bottom: number): { item: T; at: number }[] {
  const sorted = [...items].sort((a, b) => a.at - b.at)
  let free = Number.NEGATIVE_INFINITY
  const down = sorted.map((item) => {
    const at = Math.max(item.at, free)
    free = at + height
    return { item, at }
  })
  let limit = bottom
  for (const line of down.toReversed()) {
    line.at = Math.min(line.at, limit)
    limit = line.at - height
  }
  return down
}
