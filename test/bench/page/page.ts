import { readFileSync } from 'node:fs'
import { setTimeout as delay } from 'node:timers/promises'
import papa from 'papaparse'
import type { Browser, Page } from 'playwright-core'
import { setup as buildPage } from '../../e2e/build-page.ts'
import { startBrowser } from '../../e2e/open-page.ts'
import { findPeer } from '../../peers/peer.ts'
import type { Part, PartOptions } from '../part.ts'
import { median, percent, type Row } from '../table.ts'
import { type Start, startTimes } from './first-reading.ts'
import { type Frames, framesOf, type PageHeap, pageHeap } from './frames.ts'
import { startPageStage } from './page-stage.ts'
import { type Curve, unthinnedFrames } from './unthinned.ts'

const curves = 8
/** What a ring holds: one hour at twenty a second. */
const samplesACurve = 72_000
/** The first five minutes of it. */
const firstSamples = 6_000
const leastASecond = 50
const longestMs = 100
const rows = 30
/** Heap may differ by this much between the first and the second hour and still count as flat. */
const flatWithin = 0.03
/** Until what was sent last is on the screen. */
const settleMs = 2_000

const ms = (value: number) => `${value.toFixed(0)} ms`
const times = (ratio: number) => `${ratio.toFixed(1)} times`
const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(1)} MB`
const inWords = ({ aSecond, longestMs: longest, drawsASecond, core, drawMs }: Frames) =>
  [
    `${aSecond.toFixed(1)} frames/s, longest ${ms(longest)}, ${core.toFixed(2)} core`,
    ...(drawsASecond > 0 ? [`chart drawn ${drawsASecond.toFixed(1)} times/s, ${drawMs.toFixed(1)} ms of processor each`] : []),
  ].join(', ')
const aim = `${leastASecond} frames/s, none over ${ms(longestMs)}`
const isMet = (frames: Frames) => frames.aSecond >= leastASecond && frames.longestMs <= longestMs

async function run(options: PartOptions): Promise<Row[]> {
  const chromium = findPeer('chromium')
  if (!chromium.ok) return [{ what: 'page', measured: `not run: ${chromium.why}` }]
  options.say('building the page')
  await buildPage()
  const browser = await startBrowser(chromium.path)
  try {
    return [...(await startRows(browser, options)), ...(await tableRows(browser, options)), ...(await trendRows(browser, options))]
  } finally {
    await browser.close()
  }
}

async function startRows(browser: Browser, { say, full }: PartOptions): Promise<Row[]> {
  const rounds = full ? 7 : 3
  const starts: Start[] = []
  for (let round = 1; round <= rounds; round++) {
    say(`start ${round} of ${rounds}`)
    starts.push(await startTimes(browser))
  }
  const middle = (of: (start: Start) => number) => ms(median(starts.map(of)))
  return [
    {
      what: 'start to first live reading',
      measured: `${middle((s) => s.firstMs)} (address told after ${middle((s) => s.addressMs)}, table shown after ${middle((s) => s.tableMs)})`,
    },
    {
      what: 'start to all five live readings',
      measured: `${middle((s) => s.allMs)}, 2000 ms of it listening on the serial line before the first request`,
    },
  ]
}

async function tableRows(browser: Browser, { say, full }: PartOptions): Promise<Row[]> {
  say(`table of ${rows} points`)
  const stage = await startPageStage(browser, 'practice', rows)
  try {
    await liveRows(stage.page, rows)
    const frames = await framesOf(stage.page, full ? 30_000 : 10_000)
    return [{ what: `table of ${rows} rows live`, measured: inWords(frames), aim, met: isMet(frames) }]
  } finally {
    await stage.close()
  }
}

/** Waits until so many rows show a reading. */
const liveRows = (page: Page, wanted: number) =>
  page.waitForFunction(
    (least) => [...document.querySelectorAll('button[data-place=reading]')].filter((b) => /\d/.test(b.textContent ?? '')).length >= least,
    wanted,
  )

async function trendRows(browser: Browser, { say, full }: PartOptions): Promise<Row[]> {
  const stage = await startPageStage(browser, 'bins', curves)
  const { page } = stage
  const measureHeaps = async (more: number) => {
    for (let left = more; left > 0; left -= firstSamples) {
      say(`${left} of ${more} samples a curve to come`)
      await stage.history(Math.min(left, firstSamples))
    }
    await delay(settleMs)
    return { page: await pageHeap(page), host: (await stage.read()).heapBytes }
  }
  try {
    await liveRows(page, curves)
    await page.getByRole('checkbox', { name: `Choose all ${curves}` }).check()
    const trend = page.getByRole('button', { name: 'Trend', exact: true })
    if ((await trend.getAttribute('aria-pressed')) !== 'true') await trend.click()
    await page.getByLabel('Time shown while following').selectOption({ label: '1 h' })
    const early = await measureHeaps(firstSamples)
    const hour = await measureHeaps(samplesACurve - firstSamples)
    say(`${curves} curves live`)
    await stage.live()
    await delay(settleMs)
    const own = await framesOf(page, full ? 30_000 : 10_000)
    const { given, size } = await shownSamples(page)
    say('the same to chart.js and its decimation plug-in')
    const thinning = await unthinnedFrames(browser, given, size, { decimation: true, ms: full ? 20_000 : 8_000 })
    const whole = await unthinnedFrames(browser, given, size, { decimation: false, ms: full ? 60_000 : 20_000 })
    const least = Math.min(...given.map((c) => c.at.length))
    const compared = (other: Frames) =>
      `${inWords(other)}; frames: ours ${times(own.aSecond / other.aSecond)} as many; processor a drawing: ours ${percent(own.drawMs / other.drawMs)}`
    const rowsOut: Row[] = [
      { what: `trend, ${curves} × ${least} samples live`, measured: inWords(own), aim, met: isMet(own) },
      { what: 'the same, by the decimation plug-in of chart.js', measured: compared(thinning) },
      { what: 'the same, given to chart.js as it is', measured: compared(whole) },
    ]
    return [...rowsOut, ...heapRows(early, hour, full ? await measureHeaps(samplesACurve) : undefined)]
  } finally {
    await stage.close()
  }
}

type Heaps = { page: PageHeap; host: number }

function heapRows(early: Heaps, hour: Heaps, later: Heaps | undefined): Row[] {
  const flat = (of: (heaps: Heaps) => number): Pick<Row, 'aim' | 'met'> =>
    later ? { aim: `second hour at most ${percent(flatWithin)} more`, met: of(later) / of(hour) - 1 <= flatWithin } : {}
  const told = (of: (heaps: Heaps) => number) =>
    [
      `${megabytes(of(early))} after five minutes`,
      `${megabytes(of(hour))} after an hour`,
      ...(later ? [`${megabytes(of(later))} after two`] : []),
    ].join(', ')
  return [
    { what: 'page, JavaScript heap', measured: told((h) => h.page.heapBytes), ...flat((h) => h.page.heapBytes) },
    {
      what: 'page, typed arrays',
      measured: `${told((h) => h.page.outsideBytes)}; the rings alone hold ${megabytes(curves * samplesACurve * 3 * 8)} when full`,
      ...flat((h) => h.page.outsideBytes),
    },
    { what: 'host, JavaScript heap', measured: told((h) => h.host), ...flat((h) => h.host) },
  ]
}

/** The samples of the shown hour, out of the file that the page saves, and the size of its chart. */
async function shownSamples(page: Page): Promise<{ given: Curve[]; size: { width: number; height: number } }> {
  const box = await page.locator('.trend-chart').boundingBox()
  if (!box) throw new Error('the trend is not on the screen')
  await page.getByRole('button', { name: 'More…' }).click()
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('menuitem', { name: 'Save samples shown as CSV' }).click(),
  ])
  const { data } = papa.parse<string[]>(readFileSync(await download.path(), 'utf8'), { skipEmptyLines: true })
  const head = data.findIndex(([first]) => first === 'time (UTC)')
  const table = data.slice(head + 1)
  const given = Array.from({ length: curves }, (_, i) => {
    const own = table.filter((row) => (row[i + 2] ?? '') !== '')
    return { at: own.map((row) => Number(row[1])), value: own.map((row) => Number(row[i + 2])) }
  })
  return { given, size: { width: Math.round(box.width), height: Math.round(box.height) } }
}

export const pagePart: Part = {
  name: 'page',
  title: 'The built page in Chromium: start, table, trend of an hour, memory',
  notes: [
    'host, simulator and browser are processes of their own on this machine; the page is built before anything is timed',
    'start: node main/start.ts on the practice job, the browser running already',
    `trend: the host is given an hour of ${samplesACurve} samples a curve, which go the usual way to the page; then polling goes on and is measured`,
    'the plug-in and plain chart.js are given the samples that the trend showed, on a canvas of the same size, and one more each 50 ms',
    'frames: times the page could be shown anew (60 a second at most); longest: between two of them; core: processor time of its main thread',
  ],
  run,
}
