import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { describePeers } from '../peers/peer.ts'
import { cell, place, startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench } from './open-workbench.ts'

describePeers(['chromium'], 'the page is loaded again in the middle', ({ chromium }) => {
  let browser: Browser
  let workbench: OpenWorkbench
  let page: Page

  beforeAll(async () => {
    browser = await startBrowser(chromium)
    workbench = await openWorkbench(browser)
    page = workbench.page
  })
  afterAll(async () => {
    expect(workbench.complaints).toEqual([])
    await workbench.close()
    await browser.close()
  })

  const button = (name: RegExp | string) => page.getByRole('button', { name, exact: typeof name === 'string' })
  const checks = () => workbench.practice.host.topics.get('job')?.visits[0]?.checks

  it('of a running check: step, readings and typed load are still there, and nothing is taken twice', async () => {
    await cell(page, 'Check').click()
    await button('Start the check').click()
    await button('Take the reading unloaded').click()
    const known = page.getByLabel('Put on a known load')
    await known.fill('300')

    await page.reload()
    await page.getByRole('heading', { name: 'Step 2 of 3, loaded' }).waitFor()
    expect(await known.inputValue()).toBe('300')
    await page.getByLabel('Load on the practice bench').fill('300')
    await page.keyboard.press('Enter')
    await button('Take the reading at 300 kg').click()
    await page.getByRole('heading', { name: /^Step 3 of 3/ }).waitFor()

    await page.reload()
    await page.getByLabel('Load on the practice bench').fill('0')
    await page.keyboard.press('Enter')
    await button('Take the reading unloaded').click()
    await button('Finish the check').click()
    await button('Start the check').waitFor()
    expect(checks()?.map((c) => c.steps.map((s) => s.load))).toEqual([['0', '300', '0']])
  })

  it('of a review: it is open again with what would be written, and nothing has been', async () => {
    await place(page, 'Scaling').click()
    await button('Put into intended values').click()
    await button(/^Review and write \d+ settings?…$/).click()
    const rows = page.getByRole('dialog').getByRole('row')
    await rows.nth(1).waitFor()
    const shown = await rows.allTextContents()

    await page.reload()
    await rows.nth(1).waitFor()
    expect(await rows.allTextContents()).toEqual(shown)
    expect(workbench.practice.bench.requests('ind-1').log.filter((r) => r.kind === 'write')).toEqual([])
  })

  it('of a write: it goes on, is followed to its end, and is not begun again', async () => {
    // Each answer late: a slow unit, so that the write is still under way when the page is back.
    workbench.practice.bench.inject('ind-1', { kind: 'late', byMs: 150, times: 1000 })
    const dialog = page.getByRole('dialog')
    await dialog.getByRole('button', { name: /^Write \d+ settings? to WT-101$/ }).click()
    await dialog.getByText('Editing and commands are closed meanwhile.').waitFor()

    await page.reload()
    await dialog.getByText(/^WT-101: \d+ settings? written, read back equal, saved/).waitFor()
    workbench.practice.bench.clearFaults('ind-1')
    await button('Close').last().click()
    await dialog.waitFor({ state: 'detached' })
    await page.getByText('WT-101: the indicator holds what is intended').waitFor()
    await place(page, 'Scaling').waitFor()
    await button('Log of writes').click()
    await dialog.getByText('written, read back equal').waitFor()
    expect(await dialog.getByRole('row').count()).toBe(2)

    // The result was put away with the review, and stays away.
    await page.reload()
    await button('Log of writes').waitFor()
    await page.getByText('WT-101: the indicator holds what is intended').waitFor()
    expect(
      await page
        .locator('.notices')
        .getByText(/read back equal/)
        .count(),
    ).toBe(0)
  })
})
