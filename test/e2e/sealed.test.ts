import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { practiceJob } from '../../main/practice/practice-job.ts'
import { describePeers } from '../peers/peer.ts'
import { cell, startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench } from './open-workbench.ts'

describePeers(['chromium'], 'a sealed indicator, in a real browser', ({ chromium }) => {
  let browser: Browser
  let workbench: OpenWorkbench
  let page: Page

  beforeAll(async () => {
    browser = await startBrowser(chromium)
    const job = practiceJob()
    const indicators = job.indicators.map((i) => (i.id === 'ind-1' ? { ...i, sealed: { seals: 'S-7' } } : i))
    workbench = await openWorkbench(browser, { visit: false, job: { ...job, indicators } })
    page = workbench.page
  })
  afterAll(async () => {
    await workbench.close()
    await browser.close()
  })

  it('is named as such, louder than the other steps, where a write to it is reviewed', async () => {
    const { host } = workbench.practice
    const revision = host.topics.get('job')?.revision ?? 0
    const intended = await host.call('point.intend', { pointId: 'wt-101', revision, values: { 'filter.time@1': '0.25' } })
    expect(intended.ok).toBe(true)
    await page.getByRole('button', { name: 'Review and write 1 setting…' }).click()
    const review = page.getByRole('dialog', { name: 'Review and write' })
    await review.locator('.caution', { hasText: 'Unlocks and writes to a sealed indicator (S-7).' }).waitFor()
    expect(await review.locator('.caution', { hasText: 'Local rules' }).count()).toBe(0)
    await review.getByText('Local rules and licensed practice come first.').waitFor()
    await review.getByRole('button', { name: 'Close, write nothing' }).click()
  })

  it('is read-only until name, reason and the right seal numbers are given, and says that re-verification is due', async () => {
    await page.getByLabel('Who is at the machine?').fill('A. Tester')
    await page.getByRole('button', { name: 'Start the visit' }).click()
    await cell(page, 'Settings').click()
    await page.getByText('Sealed or legal for trade: read-only.').waitFor()
    await page.getByRole('button', { name: 'Break the seal…' }).click()
    const allow = page.getByRole('button', { name: 'Allow writing, as A. Tester' })
    expect(await allow.isDisabled()).toBe(true)
    await page.getByLabel('Seal numbers, read off the indicator').fill('S-7')
    await page.getByLabel('Reason').fill('sensor 2 replaced')
    await allow.click()
    await page.getByText(/Seal S-7 broken by A\. Tester.*sensor 2 replaced.*Re-verification is due/).waitFor()
    expect(workbench.practice.host.topics.get('job')?.indicators[0]?.sealed?.broken).toMatchObject({
      by: 'A. Tester',
      reason: 'sensor 2 replaced',
    })
  })
})
