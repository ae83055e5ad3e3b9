import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest'
import type { Job } from '../../app/job/schema.ts'
import { practiceJobOf } from '../../main/practice/practice-bins.ts'
import { practiceJob } from '../../main/practice/practice-job.ts'
import { describePeers } from '../peers/peer.ts'
import { focused, pressOn, tabTo } from './keyboard.ts'
import { cell, startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench } from './open-workbench.ts'

describePeers(['chromium'], 'the table of points, by keyboard only', ({ chromium }) => {
  let browser: Browser
  let workbench: OpenWorkbench
  let page: Page

  beforeAll(async () => {
    browser = await startBrowser(chromium)
  })
  afterAll(() => browser.close())
  afterEach(async () => {
    expect(workbench.complaints).toEqual([])
    await workbench.close()
  })

  const start = async (job: Job = practiceJob()) => {
    workbench = await openWorkbench(browser, { job })
    page = workbench.page
  }
  const keys = async (...names: string[]) => {
    for (const name of names) await page.keyboard.press(name)
  }
  const text = (name: RegExp | string) => page.getByText(name).first().waitFor()
  const tagsShown = () => page.locator('.points tbody .tag-button b').allTextContents()
  const held = (pointId: string) => workbench.practice.host.topics.get('job')?.points.find((p) => p.id === pointId)

  it('writes two points on two buses at once, and both read back equal', async () => {
    await start()
    await tabTo(page, /^WT-101 Reading /)
    await keys('ArrowLeft', 'ArrowLeft', 'Enter')
    await pressOn(page, /^Put into intended values$/)
    await expect.poll(() => held('wt-101')?.intended).not.toEqual({})
    await keys('ArrowDown', 'ArrowDown')
    await page.getByRole('navigation', { name: 'Chain of WT-201' }).waitFor()
    await pressOn(page, /^Put into intended values$/)
    await expect.poll(() => held('wt-201')?.intended).not.toEqual({})
    await keys('Escape')

    // The table gives the keys back to the point one came from.
    await tabTo(page, /^WT-201 Scaling /)
    await keys('ArrowUp', 'ArrowUp', 'Space', 'ArrowDown', 'ArrowDown', 'Space')
    await text('These 2')
    await pressOn(page, /^Review and write \d+ settings…$/)
    await pressOn(page, /^Write \d+ settings to two indicators$/)

    const dialog = page.getByRole('dialog')
    await dialog.getByText(/^WT-101: \d+ settings written, read back equal, saved/).waitFor()
    await dialog.getByText(/^WT-201.*: \d+ settings written, read back equal, saved/).waitFor()
    const differs = () => ['ind-1', 'ind-3'].map((id) => workbench.practice.host.topics.get('indicator', id)?.differs)
    await expect.poll(differs).toEqual([[], []])
  })

  it('takes points from pasted rows: the wrong one is named by row and column, and nothing is added before it is right', async () => {
    await start()
    await pressOn(page, /^Add…$/)
    await pressOn(page, /^From a spreadsheet$/)
    await tabTo(page, /^Rows copied from a spreadsheet/)
    const headings = 'Tag\tDescription\tMax (kg)\td\tIndicator\tChannel\n'
    await page.keyboard.insertText(`${headings}WT-203\tSilo east\t5000\t1\tSilo unit\t3\nWT-204\tSilo west\tfive\t1\tSilo unit\t4\n`)

    const wrong = page.getByRole('table', { name: 'What is not right' })
    await wrong.getByRole('row', { name: /^3 Max \(kg\) "five" does not begin with a number/ }).waitFor()
    expect(await tagsShown()).toEqual(['WT-101', 'WT-102', 'WT-201', 'WT-202', 'PT-301'])

    await keys('Control+A')
    await page.keyboard.insertText(`${headings}WT-203\tSilo east\t5000\t1\tSilo unit\t3\nWT-204\tSilo west\t5000\t1\tSilo unit\t4\n`)
    await wrong.waitFor({ state: 'detached' })
    await pressOn(page, /^Add two points$/)
    await text('two points added')
    expect(await tagsShown()).toEqual(['WT-101', 'WT-102', 'WT-201', 'WT-202', 'PT-301', 'WT-203', 'WT-204'])
  })

  it('gives several points one scale interval, converted for each, all or none', async () => {
    await start()
    await tabTo(page, /^WT-101 Reading /)
    await keys('Space', 'Shift+ArrowDown')
    await pressOn(page, /^Edit 2…$/)
    await tabTo(page, /^Scale interval d of these 2$/)
    await page.keyboard.insertText('0.5 bar')
    await text(/bar is a unit of pressure/)
    expect(await page.getByRole('button', { name: /^Change the scale interval/ }).isDisabled()).toBe(true)

    await keys('Control+A')
    await page.keyboard.insertText('500 g')
    await keys('Enter')
    await expect.poll(() => [held('wt-101')?.scaleInterval, held('wt-102')?.scaleInterval]).toEqual(['0.5', '0.5'])
    expect(held('wt-201')?.scaleInterval).toBe('1')
  })

  it('zeroes only what was confirmed for each point: the amount above the limit, and that a gauge is vented', async () => {
    await start()
    await workbench.practice.host.call('practice.load', { pointId: 'wt-101', load: '500' })
    await cell(page, 'Reading')
      .getByText(/^(500|499)\.\d/)
      .first()
      .waitFor()
    await tabTo(page, /^WT-101 Reading /)
    await keys('Space', 'End', 'ArrowDown', 'ArrowDown', 'ArrowDown', 'ArrowDown', 'Space')
    await pressOn(page, /^Zero or tare 2…$/)
    await text(/PT-301 is vented/)
    expect(await page.getByRole('button', { name: 'Zero these 2' }).isDisabled()).toBe(true)

    await pressOn(page, /^more than 4 %: WT-101 shall show .* less$/, 'Space')
    await pressOn(page, /^Zero 1 of these 2$/)

    await text('1 done')
    await page
      .getByRole('region', { name: 'Zero these 2' })
      .getByText(/WT-101 zeroed: (500|499)\.\d kg taken off/)
      .waitFor()
    expect(workbench.practice.host.topics.get('live', 'pt-301')).toMatchObject({ state: 'fresh' })
  })

  it('thirty points: found, put in order, chosen and read; the order stays while values change; heads and tags stay in sight', async () => {
    await start(practiceJobOf(30))
    await text('All 30')
    await text(/↓ \d+/)

    await keys('Control+k')
    await page.keyboard.insertText('60003')
    await expect.poll(tagsShown).toEqual(['WT-402'])
    await keys('Escape')
    await expect.poll(async () => (await tagsShown()).length).toBe(30)

    await pressOn(page, /^Load$/)
    const order = await tagsShown()
    // Pressures and masses each by themselves, the largest first.
    expect(order.slice(0, 3)).toEqual(['PT-301', 'WT-201', 'WT-202'])
    await pressOn(page, /^Reading$/)
    const byReading = await tagsShown()
    await workbench.practice.host.call('practice.load', { pointId: 'wt-425', load: '1900' })
    await cell(page, 'Reading', 'WT-425')
      .getByText(/^2[\u2009 ]?\d{3}\.\d|^\d{4}\.\d/)
      .first()
      .waitFor()
    expect(await tagsShown()).toEqual(byReading)

    await tabTo(page, /^[WP]T-\d+ (Reading|Load) /)
    await keys('Control+a')
    await text('These 30')
    await pressOn(page, /^Read settings of 30$/)
    await text('11 done')

    await tabTo(page, /^[WP]T-\d+ (Reading|Load) /)
    await keys('PageDown', 'PageDown', 'PageDown', 'Home')
    const tops = await page.evaluate(() => {
      const list = document.querySelector('.points-scroll')?.getBoundingClientRect()
      const head = document.querySelector('.points thead th')?.getBoundingClientRect()
      const scrolled = document.querySelector('.points-scroll')?.scrollTop ?? 0
      return { same: list?.top === head?.top, scrolled }
    })
    expect(tops.same).toBe(true)
    expect(tops.scrolled).toBeGreaterThan(0)
  })

  it('shows readings large enough for afar by one key, and goes back by Esc', async () => {
    await start()
    await tabTo(page, /^WT-101 Reading /)
    await keys('Space', 'Shift+ArrowDown', 'd')
    const far = page.getByRole('region', { name: 'Readings to be read from afar' })
    await far.getByText('WT-102').waitFor()
    await far.getByText('Practice: simulated').waitFor()
    const sizes = await far.locator('.digits').evaluateAll((all) => all.map((d) => Number.parseFloat(getComputedStyle(d).fontSize)))
    expect(sizes).toHaveLength(2)
    for (const size of sizes) expect(size).toBeGreaterThanOrEqual(72)

    await keys('Escape')
    await far.waitFor({ state: 'detached' })
    expect(await focused(page)).toMatch(/^WT-102 Reading /)
  })
})
