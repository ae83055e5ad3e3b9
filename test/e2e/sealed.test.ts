import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { practiceJob } from '../../main/practice/practice-job.ts'
import { describePeers } from '../peers/peer.ts'
import { cell, place, startBrowser } from './open-page.ts'
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

  it('is told as such at Settings, in the table and in the chain', async () => {
    await cell(page, 'Settings').getByText(', sealed').waitFor()
    expect(await cell(page, 'Settings', 'WT-102').getByText('sealed').count()).toBe(0)
    await cell(page, 'Settings').click()
    await place(page, 'Settings')
      .getByText(/^sealed · /)
      .waitFor()
    await page.keyboard.press('Escape')
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

  it('keeps its seal numbers in its form until the seal is broken there, and then takes new ones', async () => {
    const { host } = workbench.practice
    const seal = () => host.topics.get('job')?.indicators.find((i) => i.id === 'ind-2')?.sealed
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'Buses', exact: true }).click()
    const row = page.getByRole('table', { name: 'Indicators' }).getByRole('row').nth(2)
    const numbers = page.getByLabel('Seal numbers', { exact: true })
    await row.getByRole('button', { name: 'Edit…' }).click()
    const keep = page.getByRole('button', { name: 'Keep this' })
    await numbers.fill('T-1, T-1')
    await page.getByText('Seal number T-1 stands there twice').waitFor()
    expect(await keep.isDisabled()).toBe(true)
    await numbers.fill('T-1, T-2')
    await page.getByText('Once this is kept, the indicator is read-only').waitFor()
    await keep.click()
    await numbers.waitFor({ state: 'detached' })
    expect(seal()).toEqual({ seals: 'T-1, T-2' })

    await row.getByRole('button', { name: 'Edit…' }).click()
    expect(await numbers.inputValue()).toBe('T-1, T-2')
    expect(await numbers.isDisabled()).toBe(true)
    await page.getByText('Seal numbers are changed by breaking the seal, with name and reason.').waitFor()
    await page.getByLabel('Name', { exact: true }).fill('Hopper two')
    await keep.click()
    await row.getByText('Hopper two').waitFor()
    expect(seal()).toEqual({ seals: 'T-1, T-2' })

    await row.getByRole('button', { name: 'Edit…' }).click()
    await page.getByRole('button', { name: 'Break the seal…' }).click()
    await page.getByLabel('Seal numbers, read off the indicator').fill('T-1 T-2')
    await page.getByLabel('Reason').fill('new cell')
    await page.getByRole('button', { name: 'Allow writing, as A. Tester' }).click()
    await page.getByText(/Seal T-1 T-2 broken by A\. Tester/).waitFor()
    expect(await numbers.inputValue()).toBe('')
    await numbers.fill('T-2, T-1')
    await keep.click()
    await page.getByText('A new seal has another number than').waitFor()
    await numbers.fill('T-3')
    await keep.click()
    await numbers.waitFor({ state: 'detached' })
    expect(seal()).toMatchObject({ seals: 'T-3', earlier: [{ seals: 'T-1 T-2', broken: { reason: 'new cell' } }] })
  })
})
