import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest'
import { practiceJobOf } from '../../main/practice/practice-bins.ts'
import { describePeers } from '../peers/peer.ts'
import { cell, place, startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench } from './open-workbench.ts'

describePeers(['chromium'], 'a window 640 px high, the smallest that is served', ({ chromium }) => {
  let browser: Browser
  let workbench: OpenWorkbench
  let page: Page

  beforeAll(async () => {
    browser = await startBrowser(chromium)
    workbench = await openWorkbench(browser, { job: practiceJobOf(12) })
    page = workbench.page
    await page.setViewportSize({ width: 1280, height: 640 })
  })
  afterAll(async () => {
    expect(workbench.complaints).toEqual([])
    await workbench.close()
    await browser.close()
  })
  beforeEach(async () => {
    await page.evaluate(() => {
      location.hash = ''
    })
    await cell(page, 'Reading').waitFor()
  })

  const bench = () => page.getByRole('button', { name: /bench$/i, expanded: false })
  const closeBench = () =>
    page
      .getByRole('region', { name: 'Practice bench' })
      .getByRole('button', { name: /^Close/ })
      .click()
  /** Whether all of it lies between the header and the foot. */
  const inSight = async (locator: ReturnType<Page['locator']>) => {
    const [box, foot] = [await locator.boundingBox(), await page.locator('.foot').boundingBox()]
    return box !== null && foot !== null && box.y >= 40 && box.y + box.height <= foot.y + 0.5
  }

  it('keeps six rows and the bar in sight under the practice bench, and folds the trend meanwhile', async () => {
    const trend = page.getByRole('button', { name: 'Trend', exact: true })
    await trend.click()
    expect(await page.getByRole('region', { name: 'Trend' }).isVisible()).toBe(true)

    await bench().first().click()
    await page.getByRole('region', { name: 'Trend' }).waitFor({ state: 'detached' })
    for (const row of [0, 5]) expect(await inSight(page.locator('.points tbody tr').nth(row))).toBe(true)
    expect(await inSight(page.locator('.scope-bar'))).toBe(true)

    await trend.click()
    await page.getByRole('region', { name: 'Practice bench' }).waitFor({ state: 'detached' })
    expect(await inSight(page.getByRole('region', { name: 'Trend' }))).toBe(true)
    expect(await inSight(page.locator('.points tbody tr').nth(5))).toBe(true)
    await trend.click()
  })

  it('has room for the whole form of a new job', async () => {
    await page.getByRole('banner').getByRole('button').first().click()
    const make = page.getByRole('button', { name: 'Make the job and open it' })
    await make.waitFor()
    expect(await inSight(make)).toBe(true)
    expect(
      await make.evaluate((e) => document.elementFromPoint(e.getBoundingClientRect().x + 4, e.getBoundingClientRect().bottom - 4) === e),
    ).toBe(true)
    await page.keyboard.press('Escape')
    await make.waitFor({ state: 'detached' })
  })

  it('prints no place of the chain over the next where the system enlarges everything, and keeps what matters whole', async () => {
    // 1366 px at 125 %.
    await page.setViewportSize({ width: 1093, height: 640 })
    await cell(page, 'Reading').click()
    await page.locator('.chain-link').first().waitFor()
    const spilt = await page.locator('.chain li').evaluateAll((items) =>
      items.flatMap((item, i) => {
        const end = items[i + 1]?.getBoundingClientRect().left ?? Number.POSITIVE_INFINITY
        const most = item.querySelector('.most')
        const cut = most !== null && most.scrollWidth > most.clientWidth + 1
        const over = [...item.querySelectorAll('.most, .detail')].some((part) => part.getBoundingClientRect().right > end)
        return cut || over ? [item.textContent] : []
      }),
    )
    await page.setViewportSize({ width: 1280, height: 640 })
    expect(spilt).toEqual([])
  })

  it('keeps the bar below the rows in one line, however many are chosen', async () => {
    const bar = page.locator('.scope-bar')
    const top = async (name: RegExp) => (await bar.getByRole('button', { name }).boundingBox())?.y
    await bar.getByText(/needs? attention$/).waitFor()
    for (const tag of ['', 'WT-101', 'WT-102', 'WT-201']) {
      if (tag) await page.getByLabel(`Choose ${tag}`, { exact: true }).check()
      expect(await top(/^Add…$/), tag).toBe(await top(/^Identify/))
    }
    await page.getByRole('button', { name: 'choose none' }).click()
  })

  it('never lets chain and digits scroll away, also under the practice bench', async () => {
    await cell(page, 'Reading').click()
    await bench().first().click()
    expect(await inSight(page.locator('.chain'))).toBe(true)
    expect(await inSight(page.locator('.digits').first())).toBe(true)
    await closeBench()
  })

  it('shows side columns as tabs beside the main one; the tab stays when the point changes', async () => {
    await cell(page, 'Load').click()
    await page.getByLabel('Maximum load').waitFor()
    await page.getByRole('tab', { name: 'Gravity' }).click()
    await page.getByLabel('Gravity here').waitFor()
    expect(await page.getByLabel('Maximum load').isVisible()).toBe(false)
    expect(await inSight(page.getByRole('heading', { name: 'On it now' }))).toBe(true)

    await page.getByRole('navigation', { name: 'Measuring points' }).getByText('WT-102').click()
    await page.getByRole('navigation', { name: 'Chain of WT-102' }).waitFor()
    expect(await page.getByLabel('Gravity here').isVisible()).toBe(true)
    expect(await place(page, 'Load').getAttribute('aria-current')).toBe('page')
  })

  it('explains a term by pointer, by the tab key, and by F1 for the field in focus', async () => {
    await cell(page, 'Load').click()
    await page.getByRole('tab', { name: 'What the point shows' }).click()
    const sentence = page.getByRole('tooltip').getByText('The step in which readings are shown')
    await page.getByText('Scale interval d', { exact: true }).hover()
    await sentence.waitFor()
    await page.mouse.move(640, 20)
    await sentence.waitFor({ state: 'detached' })

    await page.getByLabel('Scale interval d').focus()
    await page.keyboard.press('F1')
    await sentence.waitFor()
    await page.keyboard.press('Shift')
    await sentence.waitFor({ state: 'detached' })

    await place(page, 'Scaling').click()
    await page.locator('[data-term="rated output"]').focus()
    for (const key of ['Tab', 'Shift+Tab']) await page.keyboard.press(key)
    await page.getByRole('tooltip').getByText('What the signal rises by from no load to capacity').waitFor()
  })

  it('says where there is more below, and goes there', async () => {
    await cell(page, 'Scaling').click()
    const middle = page.locator('.middle')
    await middle.getByText('more below').click()
    await expect.poll(() => middle.locator('.scroller-area').evaluate((area) => area.scrollTop)).toBeGreaterThan(100)
    // Pressed in the page: it scrolls smoothly, and the button is gone as soon as the end is reached.
    const pressMore = () => middle.evaluate((e) => e.querySelector<HTMLElement>('.more-below')?.click())
    await expect
      .poll(async () => {
        await pressMore()
        return inSight(middle.locator('summary').last())
      })
      .toBe(true)
  })

  it('leaves no empty side beside the main column where a place has nothing to put there', async () => {
    await cell(page, 'Sensors').click()
    const tabs = page.locator('.columns.sensors').getByRole('tablist')
    await tabs.waitFor()
    const count = page.getByLabel('Sensors in parallel', { exact: true })
    await count.fill('0')
    await page.keyboard.press('Enter')
    await page.getByText('No sensor is entered.').waitFor()
    expect(await tabs.count()).toBe(0)
    const [whole, main] = [await page.locator('.columns.sensors').boundingBox(), await page.locator('.sensors-left').boundingBox()]
    expect(main?.x).toBe(whole?.x)
  })
})
