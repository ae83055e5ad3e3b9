import { readFileSync } from 'node:fs'
import papa from 'papaparse'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { describePeers } from '../peers/peer.ts'
import { cell, startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench } from './open-workbench.ts'

describePeers(['chromium'], 'the trend of live samples, in a real browser', ({ chromium }) => {
  let browser: Browser
  let workbench: OpenWorkbench
  let page: Page

  beforeAll(async () => {
    browser = await startBrowser(chromium)
    workbench = await openWorkbench(browser, { visit: false })
    page = workbench.page
    await cell(page, 'Reading').click()
    await page.getByLabel('Load on the practice bench').fill('0')
    await page.getByRole('button', { name: 'Put it on' }).click()
  })
  afterAll(async () => {
    await workbench.close()
    await browser.close()
  })

  const more = async (item: RegExp) => {
    await page.getByRole('button', { name: 'More…' }).click()
    await page.getByRole('menuitem', { name: item }).click()
  }
  const chart = () => page.getByRole('application', { name: /^Chart/ })
  const cursorTimes = async () =>
    Promise.all((['A', 'B'] as const).map((n) => page.getByRole('slider', { name: `Cursor ${n}` }).getAttribute('aria-valuenow')))

  it('is held and followed again, by button and by keys', async () => {
    await page.getByRole('button', { name: 'Freeze', exact: true }).click()
    await page.getByText('frozen').waitFor()
    await page.getByRole('button', { name: 'Follow', exact: true }).click()
    await page.getByText(/all there is so far$/).waitFor()
    await chart().focus()
    await page.keyboard.press('+')
    await page.getByText('frozen').waitFor()
    await page.keyboard.press('0')
    await page.getByText(/all there is so far$/).waitFor()
  })

  it('is held where it is dragged to, and arrow keys on it do not leave the place', async () => {
    const box = await chart().boundingBox()
    if (!box) throw new Error('The chart is not on the screen.')
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
    await page.mouse.down()
    await page.mouse.move(box.x + box.width / 2 + 60, box.y + box.height / 2, { steps: 6 })
    await page.mouse.up()
    await page.getByText('frozen').waitFor()
    await chart().focus()
    await page.keyboard.press('ArrowLeft')
    await chart().waitFor()
    await page.keyboard.press('0')
  })

  it('reads the samples at two cursors and their difference', async () => {
    await page.getByText(/gross · steady$/).waitFor()
    await page.getByLabel('Load on the practice bench').fill('400')
    await page.getByRole('button', { name: 'Put it on' }).click()
    await page.getByText(/gross · moving$/).waitFor()
    await page.getByText(/gross · steady$/).waitFor()
    await page.getByRole('button', { name: 'Freeze', exact: true }).click()
    await more(/Two cursors/)
    const before = await cursorTimes()
    await page.getByRole('slider', { name: 'Cursor A' }).focus()
    await page.keyboard.press('ArrowRight')
    const moved = await cursorTimes()
    expect(Number(moved[0])).toBeGreaterThan(Number(before[0]))
    expect(moved[1]).toBe(before[1])

    await page.getByRole('slider', { name: 'Cursor B' }).focus()
    await page.keyboard.press('End')
    const row = page.getByRole('row', { name: /^WT-101/ })
    const cells = await row.getByRole('cell').allTextContents()
    expect(cells[1]).toMatch(/^400\.\d kg$/)
    await more(/Take the cursors away/)
    await page.getByRole('button', { name: 'Follow', exact: true }).click()
  })

  it('hands over every sample shown as CSV, said to be simulated, and the picture as PNG', async () => {
    const [csv] = await Promise.all([page.waitForEvent('download'), more(/as CSV/)])
    expect(csv.suggestedFilename()).toBe('trend-WT-101.csv')
    const rows = papa.parse<string[]>(readFileSync(await csv.path(), 'utf8').trim()).data
    expect(rows.find((r) => r[0] === 'indicators')?.[1]).toBe('simulated')
    const head = rows.findIndex((r) => r[0] === 'time (UTC)')
    expect(rows[head]).toEqual(['time (UTC)', 'seconds', 'WT-101 (kg)'])
    const readings = rows.slice(head + 1).map((r) => Number(r[2]))
    expect(readings.length).toBeGreaterThan(50)
    expect(Math.max(...readings)).toBeGreaterThan(390)
    expect(Math.min(...readings)).toBeLessThan(5)

    const [png] = await Promise.all([page.waitForEvent('download'), more(/as PNG/)])
    expect(
      readFileSync(await png.path())
        .subarray(1, 4)
        .toString(),
    ).toBe('PNG')
    expect(workbench.complaints).toEqual([])
  })

  it('tells what the curve holds under the pointer', async () => {
    const box = await chart().boundingBox()
    if (!box) throw new Error('The chart is not on the screen.')
    const under = page.getByRole('status', { name: 'Under the pointer' })
    await page.mouse.move(box.x + box.width - 90, box.y + box.height / 2)
    await under.getByText(/WT-101 400\.\d kg/).waitFor()
    await page.mouse.move(box.x + box.width / 2, box.y - 60)
    await under.waitFor({ state: 'detached' })
  })

  it('writes the names of marks into the CSV', async () => {
    await page.getByRole('button', { name: 'Mark', exact: true }).click()
    await more(/^Name the mark/)
    await page.getByLabel(/^Name of the mark/).fill('400 kg on')
    await page.getByRole('button', { name: 'Done' }).click()
    const [csv] = await Promise.all([page.waitForEvent('download'), more(/as CSV/)])
    const rows = papa.parse<string[]>(readFileSync(await csv.path(), 'utf8').trim()).data
    const head = rows.findIndex((r) => r[0] === 'time (UTC)')
    expect(rows[head]?.[3]).toBe('mark')
    expect(rows.slice(head + 1).filter((r) => r[3] !== '')).toEqual([
      [expect.any(String), expect.any(String), expect.any(String), '400 kg on'],
    ])
    await more(/Take the mark away/)
  })

  it('keeps what is drawn, for how long, and the cursors, while other places are open', async () => {
    await page.getByRole('button', { name: 'mV/V', exact: true }).click()
    await page.getByLabel('Time shown while following').selectOption({ label: '2 min' })
    await more(/Two cursors/)
    const times = await cursorTimes()
    await page
      .getByRole('navigation', { name: /^Chain/ })
      .getByText('Input')
      .click()
    await page
      .getByRole('navigation', { name: /^Chain/ })
      .getByText('Reading')
      .click()
    expect(await page.getByRole('button', { name: 'mV/V', exact: true }).getAttribute('aria-pressed')).toBe('true')
    expect(await page.getByLabel('Time shown while following').inputValue()).toBe('120000')
    expect(await cursorTimes()).toEqual(times)
    await more(/Take the cursors away/)
    await page.getByRole('button', { name: 'kg', exact: true }).click()
  })

  it('goes on over a reload with what the host has of the last minutes', async () => {
    const reloaded = Date.now()
    await page.reload()
    await page.getByText(/gross · steady$/).waitFor()
    const [csv] = await Promise.all([page.waitForEvent('download'), more(/as CSV/)])
    const rows = papa.parse<string[]>(readFileSync(await csv.path(), 'utf8').trim()).data
    const times = rows.slice(rows.findIndex((r) => r[0] === 'time (UTC)') + 1).map((r) => Date.parse(r[0] ?? ''))
    expect(times.filter((at) => at < reloaded).length).toBeGreaterThan(50)
    expect(times.at(-1)).toBeGreaterThan(reloaded)
    expect(new Set(times).size).toBe(times.length)
  })

  it('of a point that gave no sample yet says so in words, without an axis of made-up numbers', async () => {
    const { host } = workbench.practice
    const revision = host.topics.get('job')?.revision ?? 0
    const from = { sheet: 'Tag\tMax (kg)\td (kg)\nWT-900\t500\t0.1\n' }
    const reply = await host.call('points.import', { revision, from, dryRun: false, partly: false })
    const id = reply.ok ? reply.value.points[0]?.id : undefined
    await page.evaluate((hash) => {
      location.hash = hash
    }, `${id}/reading`)
    await page.getByText('No sample yet. The curve begins with the first reading.').waitFor()
    expect(await chart().locator('canvas').isVisible()).toBe(false)
  })
})
