import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { describePeers } from '../peers/peer.ts'
import { focusSeen, pressAtOnce, pressOn, tabTo } from './keyboard.ts'
import { type OpenProgram, openProgram } from './open-program.ts'

describePeers(['chromium'], 'by keyboard only', ({ chromium }) => {
  let program: OpenProgram
  let page: Page

  beforeAll(async () => {
    program = await openProgram(chromium)
    page = program.page
  })
  afterAll(() => program.close())

  const keys = async (...names: string[]) => {
    for (const name of names) await page.keyboard.press(name)
  }
  const text = (name: RegExp | string) => page.getByText(name).first().waitFor()
  const focused = (name: RegExp) => expect.poll(() => focusSeen(page)).toMatch(name)

  it('goes from a job that is opened to a setting that is written, and the focus is seen and never lost', async () => {
    await tabTo(page, /^Feed mill, line 2/)
    await keys('Enter')
    await tabTo(page, /^What is it called\?$/)
    await page.keyboard.insertText('Nothing yet')
    await tabTo(page, /^Indicators$/)
    await keys('End')
    await pressOn(page, /^Make the job and open it$/)
    await text('This job has no measuring points yet.')
    await focused(/./)
    await tabTo(page, /^Nothing yet/)
    await keys('Enter')
    await pressOn(page, /^Feed mill, line 2$/)
    await text('WT-101')
    await focused(/./)

    await tabTo(page, /^Who is at the machine/)
    await page.keyboard.insertText('A. Tester')
    await keys('Enter')
    await text(/visit .*, A\. Tester/)
    await focused(/./)

    await tabTo(page, /^WT-101 \w+ /)
    await keys('ArrowDown', 'Home', 'ArrowRight', 'ArrowRight', 'ArrowRight', 'Enter')
    await page.getByRole('navigation', { name: 'Chain of WT-102' }).waitFor()
    await focused(/^Input/)
    await keys('ArrowUp', 'ArrowRight', 'ArrowRight')
    await page.getByRole('navigation', { name: 'Chain of WT-101' }).waitFor()
    await focused(/^Settings/)

    await tabTo(page, /^Filter time/)
    await keys('Control+A')
    await page.keyboard.insertText('0.5')
    await keys('Enter')
    // Offered once it is read what the indicator holds.
    await text(/^Review and write 1 setting…$/)
    await pressOn(page, /^Review and write 1 setting…$/)
    const dialog = page.getByRole('dialog')
    await dialog.getByText('Filter time').waitFor()
    await pressOn(page, /^Write 1 setting to WT-101$/)
    await dialog.getByText(/1 setting written, read back equal, saved/).waitFor()
    await focused(/^Review and write/)
    await keys('Escape')
    await dialog.waitFor({ state: 'detached' })
    await focused(/^Restore earlier settings…$/)

    await keys('?')
    await dialog.getByText('another cell').waitFor()
    await keys('Escape')
    await dialog.waitFor({ state: 'detached' })
    await focused(/^Restore earlier settings…$/)
    await keys('Escape')
    await page.getByRole('table').waitFor()
    await focused(/^WT-101 Settings /)
    await pressOn(page, /^Buses$/)
    await keys('Escape')
    await focused(/^Buses$/)
    expect(program.complaints).toEqual([])
  })

  it('takes back what is typed, leaves the field and goes to all points by Esc, however quickly it is pressed', async () => {
    const typeInto = async () => {
      await tabTo(page, /^WT-101 \w+ /)
      await keys('Home', 'Enter')
      await tabTo(page, /^Maximum load$/)
      await keys('Control+A')
      await page.keyboard.insertText('750')
      return page.getByLabel('Maximum load', { exact: true })
    }
    const field = await typeInto()
    await pressAtOnce(page, 'Escape', 2)
    expect(await field.inputValue()).toMatch(/^1.?000 kg$/)
    await focused(/^Load/)
    await keys('Escape')
    await focused(/^WT-101 Load /)

    await typeInto()
    await pressAtOnce(page, 'Escape', 3)
    await field.waitFor({ state: 'detached' })
    await focused(/^WT-101 Load /)
    expect(program.host.topics.get('job')?.points.find((p) => p.tag === 'WT-101')?.maximumLoad).toBe('1000')
    expect(program.complaints).toEqual([])
  })
})
