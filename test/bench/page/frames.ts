import type { CDPSession, Page } from 'playwright-core'

/** What the eye gets: how often the page could be shown anew, the longest time it could not, and what that cost. */
export type Frames = {
  aSecond: number
  longestMs: number
  /** Times a canvas was drawn anew, a second. */
  drawsASecond: number
  /** Share of a core that the page's main thread took: processor time, which a busy machine does not stretch. */
  core: number
  /** Processor time of the main thread for each drawing, all that goes on beside it included. */
  drawMs: number
}

type Counted = { gaps: number[]; draws: number }

/** Follows the page for so long, and for two frames at least. */
export async function framesOf(page: Page, ms: number): Promise<Frames> {
  const devtools = await page.context().newCDPSession(page)
  await devtools.send('Performance.enable', { timeDomain: 'threadTicks' })
  const [workedBefore, began] = [await workedMs(devtools), performance.now()]
  const { gaps, draws } = await page.evaluate(countFrames, ms)
  const elapsedMs = performance.now() - began
  const worked = (await workedMs(devtools)) - workedBefore
  await devtools.detach()
  const shownMs = gaps.reduce((sum, gap) => sum + gap, 0)
  return {
    aSecond: (1000 * gaps.length) / shownMs,
    longestMs: Math.max(...gaps),
    drawsASecond: (1000 * draws) / shownMs,
    core: worked / elapsedMs,
    drawMs: worked / draws,
  }
}

/** Runs in the page. A chart clears its canvas once each time it draws. */
function countFrames(ms: number): Promise<Counted> {
  const clear = CanvasRenderingContext2D.prototype.clearRect
  let draws = 0
  CanvasRenderingContext2D.prototype.clearRect = function (...area) {
    draws += 1
    clear.apply(this, area)
  }
  const began = performance.now()
  const gaps: number[] = []
  let before = Number.NaN
  return new Promise((done) => {
    const onFrame = () => {
      const now = performance.now()
      if (!Number.isNaN(before)) gaps.push(now - before)
      before = now
      if (now - began < ms || gaps.length < 2) return void requestAnimationFrame(onFrame)
      CanvasRenderingContext2D.prototype.clearRect = clear
      done({ gaps, draws })
    }
    requestAnimationFrame(onFrame)
  })
}

async function workedMs(devtools: CDPSession): Promise<number> {
  const { metrics } = await devtools.send('Performance.getMetrics')
  return 1000 * (metrics.find((m) => m.name === 'TaskDuration')?.value ?? Number.NaN)
}

export type PageHeap = {
  /** JavaScript objects. */ heapBytes: number /** Typed arrays and what else lies outside the heap. */
  outsideBytes: number
}

/** What the page holds after its garbage has been collected. */
export async function pageHeap(page: Page): Promise<PageHeap> {
  const devtools = await page.context().newCDPSession(page)
  await devtools.send('HeapProfiler.collectGarbage')
  const usage = await devtools.send('Runtime.getHeapUsage')
  await devtools.detach()
  return { heapBytes: usage.usedSize, outsideBytes: usage.backingStorageSize }
}
