import { readFileSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest'
import { describePeers } from '../peers/peer.ts'
import { cell, place, startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench } from './open-workbench.ts'

describePeers(['chromium'], 'a value that cannot be', ({ chromium }) => {
  let browser: Browser
  let workbench: OpenWorkbench
  let page: Page

  beforeAll(async () => {
    browser = await startBrowser(chromium)
  })
  afterAll(() => browser.close())
  beforeEach(async () => {
    workbench = await openWorkbench(browser)
    page = workbench.page
  })
  afterEach(() => workbench.close())

  const saved = () => JSON.parse(readFileSync(workbench.practice.jobPath, 'utf8')).points[0]
  const typeInto = async (label: string, text: string) => {
    await page.getByLabel(label, { exact: true }).fill(text)
    await page.keyboard.press('Enter')
  }
  /** Told what would be right, with what was typed still there and the job as it was. */
  const refused = async (label: string, text: string, why: string) => {
    const before = saved()
    await typeInto(label, text)
    const field = page.getByLabel(label, { exact: true })
    await page
      .locator(`[id="${await field.getAttribute('id')}-error"]`)
      .getByText(why)
      .waitFor()
    expect(await field.inputValue()).toBe(text)
    expect(saved()).toEqual(before)
    await field.press('Escape')
  }

  it('is refused beside its field with what would be right, and stays there to be mended', async () => {
    await cell(page, 'Load').click()
    for (const text of ['91', '-90.1']) await refused('or from latitude', text, 'A latitude is from \u221290 to 90 degrees')
    await place(page, 'Sensors').click()
    for (const text of ['17', '-1', '2.5']) await refused('Sensors in parallel', text, 'A point has 0 to 16 sensors: type a whole number.')
    await refused('Certificate date, sensor 1', 'tomorrow', 'like 2026-03-14')
    await refused('Safe overload, sensor 1', '50', 'must be above 100 %')
    expect(workbench.complaints).toEqual([])
  })

  it('is no source that another tolerance had: that is emptied, and can be stated anew', async () => {
    await cell(page, 'Load').click()
    const source = page.getByLabel('Where it comes from', { exact: true })
    expect(await source.inputValue()).not.toBe('')
    await typeInto('Tolerance', '0.7 kg')
    await expect.poll(() => saved().tolerance).toEqual({ value: '0.7', why: '' })
    await expect.poll(() => source.inputValue()).toBe('')
    await typeInto('Where it comes from', 'site procedure')
    await expect.poll(() => saved().tolerance).toEqual({ value: '0.7', why: 'site procedure' })
  })

  it('is no length and no ohms that nobody typed: they are not stated until they are', async () => {
    await cell(page, 'Wiring').click()
    await page.getByRole('button', { name: 'Four wires' }).click()
    await page.getByLabel('Cable to the box', { exact: true }).selectOption('AWG 24')
    const length = page.getByLabel('Length, cable to the box', { exact: true })
    await page.getByText(/is not counted\. A cable is chosen and its length is not stated/).waitFor()
    expect(await length.inputValue()).toBe('')
    expect(await length.getAttribute('placeholder')).toBe('not stated')
    await place(page, 'Wiring').getByText('length not stated').waitFor()
    await page.getByRole('img', { name: 'Wiring of WT-101' }).getByText('length not stated, AWG 24').waitFor()
    await refused('Length, cable to the box', '-30', 'cannot be below 0 m')
    await typeInto('Length, cable to the box', '100')
    // 25.67 ohm/1000 ft (published wire tables): 2 x 8.4219 ohm before three 385 ohm side by side, 88.398 % are left
    await place(page, 'Wiring').getByText('leads take 11.602 %').waitFor()

    await page.getByRole('button', { name: 'Add a series part' }).click()
    await place(page, 'Wiring').getByText('ohms not stated').waitFor()
    await refused('Series part 1, ohms of one lead', '0', 'must be above 0 Ω')
    expect(workbench.complaints).toEqual([])
  })
})
