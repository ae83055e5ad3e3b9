import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { practiceJob } from '../../main/practice/practice-job.ts'
import { describePeers } from '../peers/peer.ts'
import { cell, startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench } from './open-workbench.ts'

const minutesAgo = (minutes: number) => new Date(Date.now() - minutes * 60_000).toISOString()

/** The practice job as a program left it that was killed in the middle of a check of WT-101. */
function interrupted() {
  const check = {
    id: 'check-1',
    pointId: 'wt-101',
    when: 'as-found' as const,
    startedAt: minutesAgo(20),
    by: 'A. Tester',
    unit: 'kg' as const,
  }
  const step = { load: '0', reading: '0.0', origin: 'typed' as const, at: minutesAgo(19), samples: [] }
  const visit = { id: 'visit-1', startedAt: minutesAgo(60), by: 'A. Tester', found: {}, left: {}, checks: [{ ...check, steps: [step] }] }
  return { ...practiceJob(), visits: [visit] }
}

describePeers(['chromium'], 'visits, in a real browser', ({ chromium }) => {
  let browser: Browser
  beforeAll(async () => {
    browser = await startBrowser(chromium)
  })
  afterAll(() => browser.close())

  const walked = async (walk: (page: Page, workbench: OpenWorkbench) => Promise<void>) => {
    const workbench = await openWorkbench(browser, { visit: false, job: interrupted() })
    await walk(workbench.page, workbench)
    expect(workbench.complaints).toEqual([])
    await workbench.close()
  }
  const button = (page: Page, name: RegExp | string) => page.getByRole('button', { name, exact: typeof name === 'string' })
  const said = (page: Page) => page.getByRole('banner').getByRole('button', { name: /^visit / })

  it('one that began today is gone on with, and so is the check that was running in it', async () => {
    await walked(async (page, { practice }) => {
      await button(page, 'Go on as A. Tester').click()
      await said(page).waitFor()
      await cell(page, 'Check').click()
      await page.getByRole('heading', { name: 'Step 2 of 3, loaded' }).waitFor()
      expect(practice.host.topics.get('job')?.visits).toHaveLength(1)
    })
  })

  it('another one begins in its place, and a check left running in the earlier one closes nothing', async () => {
    await walked(async (page) => {
      await page.getByLabel(/^or another visit/).fill('B. Field')
      await button(page, 'Start another visit').click()
      await said(page).waitFor()
      await cell(page, 'Check').click()
      await button(page, 'Start the check').waitFor()
      expect(await page.getByRole('contentinfo').textContent()).not.toContain('Writing is closed')
      await button(page, 'Earlier visits…').waitFor()
    })
  })

  it('somebody else takes over while one is going on, but not in the middle of a check', async () => {
    await walked(async (page, { practice }) => {
      await button(page, 'Go on as A. Tester').click()
      await said(page).click()
      const name = page.getByLabel(/^Who is at the machine now/)
      await name.fill('B. Field')
      await button(page, 'Start another visit').click()
      await page.getByText('A check of WT-101 is running').waitFor()
      expect(await name.inputValue()).toBe('B. Field')

      await cell(page, 'Check').click()
      await button(page, 'End here, without a verdict').click()
      await button(page, 'Start another visit').click()
      await name.waitFor({ state: 'detached' })
      expect(await said(page).textContent()).toContain('B. Field')
      expect(practice.host.topics.get('job')?.visits.map((v) => v.by)).toEqual(['A. Tester', 'B. Field'])

      await said(page).click()
      await button(page, 'Stay in this visit').click()
      await name.waitFor({ state: 'detached' })
    })
  })
})
