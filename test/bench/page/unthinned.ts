import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import type { Chart } from 'chart.js'
import type { Browser } from 'playwright-core'
import { type Frames, framesOf } from './frames.ts'

/** Samples of one curve, oldest first; seconds. */
export type Curve = { at: number[]; value: number[] }
type Size = { width: number; height: number }

const everyMs = 50
const chartSource = readFileSync(join(dirname(createRequire(import.meta.url).resolve('chart.js')), 'chart.umd.js'), 'utf8')

/** The same curves given whole to chart.js, with each new sample, as often as the page gets one; quick settings, no animation. */
export async function unthinnedFrames(
  browser: Browser,
  curves: readonly Curve[],
  size: Size,
  options: { decimation: boolean; ms: number },
): Promise<Frames> {
  const context = await browser.newContext({ viewport: size })
  try {
    const page = await context.newPage()
    await page.setContent('<style>body { margin: 0 } div { width: 100vw; height: 100vh }</style><div><canvas></canvas></div>')
    await page.addScriptTag({ content: chartSource })
    await page.evaluate(draw, { curves, decimation: options.decimation, everyMs })
    return await framesOf(page, options.ms)
  } finally {
    await context.close()
  }
}

/** Runs in the page. */
function draw({ curves, decimation, everyMs }: { curves: readonly Curve[]; decimation: boolean; everyMs: number }): void {
  const { Chart: Drawn } = window as unknown as { Chart: typeof Chart }
  const all = curves.map(({ at, value }) => at.map((x, i) => ({ x, y: value[i] ?? 0 })))
  const canvas = document.querySelector('canvas')
  if (!canvas) throw new Error('there is no canvas')
  const chart = new Drawn(canvas, {
    type: 'line',
    data: { datasets: all.map((data, i) => ({ data, borderWidth: 1.5, pointRadius: 0, borderColor: `hsl(${45 * i} 60% 45%)` })) },
    options: {
      animation: false,
      parsing: false,
      normalized: true,
      maintainAspectRatio: false,
      events: [],
      plugins: { legend: { display: false }, decimation: { enabled: decimation, algorithm: 'min-max' } },
      scales: { x: { type: 'linear' }, y: { type: 'linear' } },
    },
  })
  setInterval(() => {
    for (const data of all) {
      const oldest = data.shift()
      const newest = data.at(-1)
      if (oldest && newest) data.push({ x: newest.x + everyMs / 1000, y: oldest.y })
    }
    const [first] = all
    Object.assign(chart.options.scales?.['x'] ?? {}, { min: first?.[0]?.x, max: first?.at(-1)?.x })
    chart.update('none')
  }, everyMs)
}
