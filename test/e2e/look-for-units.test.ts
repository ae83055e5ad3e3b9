import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { practiceJob } from '../../main/practice/practice-job.ts'
import { describePeers } from '../peers/peer.ts'
import { startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench } from './open-workbench.ts'

describePeers(['chromium'], 'a look for units, in a real browser', ({ chromium }) => {
  let browser: Browser
  let workbench: OpenWorkbench
  let page: Page

  beforeAll(async () => {
    browser = await startBrowser(chromium)
    const job = practiceJob()
    workbench = await openWorkbench(browser, {
      job: {
        ...job,
        indicators: job.indicators.filter((i) => i.id === 'ind-1'),
        points: job.points.filter((p) => p.indicatorId === 'ind-1'),
      },
    })
    page = workbench.page
  })
  afterAll(async () => {
    await workbench.close()
    await browser.close()
  })

  it('keeps what it found in sight of every other form, until it is dismissed or another one is begun', async () => {
    const button = (name: string) => page.getByRole('button', { name, exact: true })
    const found = page.getByRole('table', { name: 'Units that were found' })
    const look = async () => {
      await page.getByLabel('Unit addresses').fill('1, 5')
      await button('Start looking').click()
      await page.getByText('2 of 2 asked, 2 found.').waitFor()
    }
    await button('Buses').click()
    await button('Look for units…').first().click()
    await look()
    for (const other of ['Add a bus', 'Add an indicator', 'Listen…']) {
      await button(other).click()
      await page.getByLabel('Unit addresses').waitFor({ state: 'detached' })
      await found.getByRole('button', { name: 'Take unit 5' }).waitFor()
    }
    await button('Close the panel').click()
    await button('Buses').click()
    await page.reload()
    await found.getByRole('button', { name: 'Take unit 5' }).click()
    expect(await page.getByRole('form', { name: 'Add an indicator' }).getByLabel('Unit address').inputValue()).toBe('5')

    await button('Dismiss').click()
    await found.waitFor({ state: 'detached' })
    await page.reload()
    await button('Look for units…').first().click()
    await page.getByText('Only reads are sent').waitFor()
    expect(await found.count()).toBe(0)
    await look()
    expect(await found.getByRole('row').count()).toBe(3)
  })
})
