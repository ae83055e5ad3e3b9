import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest'
import { jobWithoutHopperB } from '../builders/undescribed.ts'
import { describePeers } from '../peers/peer.ts'
import { cell, place, startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench } from './open-workbench.ts'

describePeers(['chromium'], 'describing an indicator that nobody has described, on the practice bench', ({ chromium }) => {
  let browser: Browser
  let workbench: OpenWorkbench
  let page: Page

  beforeAll(async () => {
    browser = await startBrowser(chromium)
  })
  afterAll(() => browser.close())

  beforeEach(async () => {
    workbench = await openWorkbench(browser, { job: jobWithoutHopperB() })
    page = workbench.page
  })
  afterEach(() => workbench.close())

  const text = (name: RegExp | string) => page.getByText(name).first().waitFor()
  const button = (name: RegExp | string) => page.getByRole('button', { name })
  const soFar = () => page.getByRole('complementary', { name: 'The profile so far' })
  /** What the front panel of the unit shows, as its two decimals show it. */
  const onPanel = () => Number(workbench.practice.bench.display('ind-2', 1).reading).toFixed(2)

  async function begin() {
    await button('Describe an indicator').click()
    await page.getByLabel('What is it called?').fill('Bagging scale')
    await button('Begin to describe it').click()
    const unit = page.getByRole('textbox', { name: 'unit' })
    // Nobody answers to the address of all.
    await unit.fill('0')
    await text('A unit on a serial line has an address from 1 to 247.')
    expect(await button('Look at this unit').isDisabled()).toBe(true)
    await unit.fill('5')
    await button('Look at this unit').click()
  }

  /** Looks at a block, types what the panel shows, takes the understanding that agrees, and names it. */
  async function find(from: number, display: string, agreeing: string, meaning: string, unit: string) {
    await page.getByLabel('from address').fill(String(from))
    await page.getByLabel('registers', { exact: true }).fill('8')
    await button(/^Look$/).click()
    await page.getByRole('region', { name: 'Registers' }).getByLabel('the display shows').fill(display)
    await page.getByRole('button', { name: agreeing, exact: true }).click()
    const form = page.getByRole('form', { name: `Name address` })
    await form.getByLabel('It is').selectOption({ label: meaning })
    await form.getByRole('textbox', { name: 'Unit' }).fill(unit)
    await form.getByRole('button', { name: 'Put into the profile' }).click()
    await form.waitFor({ state: 'detached' })
    await soFar().getByText(meaning, { exact: true }).waitFor()
  }

  it('leads from nothing to a live reading in the table', async () => {
    await begin()

    // Where the reading stands is not known: it is searched for under a load, and looked for again under another.
    await button('Find the display').click()
    await button('Practice bench').click()
    const stranger = page.getByRole('region', { name: 'Practice line' }).getByRole('listitem').filter({ hasText: 'not in this job' })
    const search = page.getByRole('region', { name: /^Find the place/ })
    let shown = ''
    for (const [load, press] of [
      [400, 'Search the range'],
      [250, 'Look again under another load'],
    ] as const) {
      await stranger.getByLabel('Unit 5, input 1: load on the bench, kg').fill(String(load))
      await page.keyboard.press('Enter')
      await stranger.getByText(`on it ${load} kg`).waitFor()
      await expect
        .poll(
          async () => {
            const before = shown
            shown = (await stranger.locator('.bench-display').textContent()) ?? ''
            return shown === before
          },
          { interval: 1_200, timeout: 30_000 },
        )
        .toBe(true)
      await search.getByLabel('the display shows').fill(shown)
      await search.getByLabel('to', { exact: true }).fill('160')
      await search.getByText(/^161 registers: about \d+ s .* up to \d+ s where it has few/).waitFor()
      await search.getByRole('button', { name: press }).click()
      await search.getByText(`after ${load === 400 ? '1 look' : '2 looks'}`).waitFor()
    }
    await button('Look at a block').click()
    expect(await page.getByRole('region', { name: 'Registers' }).getByLabel('the display shows').inputValue()).toBe(shown)
    await button('Find the display').click()
    await search.getByRole('button', { name: '100 as signed 32 bit, low word first, 2 decimals' }).click()
    const form = page.getByRole('form', { name: 'Name address 100' })
    expect(await form.getByText(/agrees? as well/).count()).toBe(0)
    await form.getByLabel('It is').selectOption({ label: 'Reading, as displayed' })
    await form.getByRole('textbox', { name: 'Unit' }).fill('kg')
    await form.getByRole('button', { name: 'Put into the profile' }).click()
    await soFar().getByText('Reading, as displayed', { exact: true }).waitFor()

    // The scaling values are shown by the panel's menu: two pairs.
    await button('Look at a block').click()
    await find(40, '0.19710', 'Address 40 agrees as signed 32 bit, low word first, 5 decimals', 'Lower pair, signal', 'mV/V')
    await find(42, '0', 'Address 42 agrees as signed 32 bit, low word first', 'Lower pair, reading', 'kg')
    await find(44, '0.68130', 'Address 44 agrees as signed 32 bit, low word first, 5 decimals', 'Upper pair, signal', 'mV/V')
    await find(46, '800', 'Address 46 agrees as signed 32 bit, low word first, 2 decimals', 'Upper pair, reading', 'kg')
    await soFar().getByText('Still missing or wrong: 1').waitFor()
    await soFar().getByLabel('It is scaled by').selectOption('two-pairs')
    await soFar().getByText('Nothing is missing').waitFor()

    await soFar().getByText('holding 100', { exact: true }).waitFor()
    await button('Save the profile').click()
    await page.getByText('saved as a profile of this job', { exact: true }).waitFor()
    await soFar()
      .getByText(/^In the job, and as .*practice\.job\/profiles\/bagging-scale\.profile\.json$/)
      .waitFor()
    await soFar().getByRole('textbox', { name: 'Tag' }).fill('WT-105')
    await soFar().getByRole('textbox', { name: 'Maximum load' }).fill('800')
    await soFar().getByRole('textbox', { name: 'Scale interval' }).fill('0.2')
    await button('Measure with it').click()

    await cell(page, 'Reading', 'WT-105')
      .getByText(/\d kg$/)
      .waitFor()
    const point = workbench.practice.host.topics.get('job')?.points.find((p) => p.tag === 'WT-105')
    const live = workbench.practice.host.topics.get('live', point?.id)
    expect(live?.state === 'fresh' && Math.abs(Number(live.sample.reading) - Number(onPanel()))).toBeLessThan(1)
    expect(workbench.practice.bench.requests('ind-2').log.every((r) => r.kind === 'read')).toBe(true)
    expect(workbench.complaints).toEqual([])
  }, 120_000)

  it('keeps what was begun over a reload, and is carried on', async () => {
    await begin()
    await find(44, '0.68130', 'Address 44 agrees as signed 32 bit, low word first, 5 decimals', 'Upper pair, signal', 'mV/V')
    await page.reload()
    await soFar().getByText('Upper pair, signal', { exact: true }).waitFor()
    await page.keyboard.press('Escape')
    await page.getByRole('table').waitFor()
    await button('Describe an indicator').click()
    await button(/^Bagging scale$/).click()
    await soFar().getByText('Upper pair, signal', { exact: true }).waitFor()
  })

  it('warns where another address agrees with the display as well', async () => {
    await begin()
    await page.getByLabel('from address').fill('40')
    await page.getByLabel('registers', { exact: true }).fill('8')
    await button(/^Look$/).click()
    const display = page.getByRole('region', { name: 'Registers' }).getByLabel('the display shows')
    // One shape under one head: 44 holds 68130 with its low word first.
    await page.getByRole('columnheader', { name: '32 bit, low word first' }).waitFor()
    await button('Address 44 as signed 32 bit, low word first: 68 130').waitFor()
    // 68130 is 0x00010A22, low word first.
    await display.fill('0.68130')
    await page.getByRole('button', { name: 'Address 44 agrees as signed 32 bit, low word first, 5 decimals', exact: true }).click()
    const form = page.getByRole('form', { name: /^Name address/ })
    await form.getByText('0A22 0001 (hex) in the holding registers; that makes 0.681').waitFor()
    expect(await form.getByText(/agrees? as well/).count()).toBe(0)
    // Reading at zero is nought in two words, and each alone is nought too.
    await display.fill('0')
    await page
      .getByRole('button', { name: /^Address 42 agrees as/ })
      .first()
      .click()
    await form.getByText(/agrees? as well\. Put another load on/).waitFor()
  })

  it('takes a table with what is wrong by row, and what is right', async () => {
    await begin()
    await button('From a table').click()
    const sheet = page.getByLabel('Table, pasted from a spreadsheet')
    const heading = 'name,channel,table,address,type,order,decimals,unit,access,role,kept,page\n'
    await sheet.fill(`${heading}live.reading,1,holding,100,i33,CDAB,2,kg,read,live,never,31`)
    await button('Put these into the profile').click()
    await text(/row 2, type/)
    await sheet.fill(`${heading}live.reading,1,holding,100,i32,CDAB,2,kg,read,live,never,31`)
    await button('Put these into the profile').click()
    await soFar()
      .getByText(/manual, page 31/)
      .waitFor()
  })

  it('says what is wrong in the words of its fields', async () => {
    await begin()
    await page.getByLabel('from address').fill('44')
    await page.getByLabel('registers', { exact: true }).fill('2')
    await button(/^Look$/).click()
    await page.getByRole('region', { name: 'Registers' }).getByLabel('the display shows').fill('0.68130')
    await page.getByRole('button', { name: 'Address 44 agrees as signed 32 bit, low word first, 5 decimals', exact: true }).click()
    const form = page.getByRole('form', { name: 'Name address' })
    await form.getByLabel('It is').selectOption({ label: 'Upper pair, signal' })
    await form.getByLabel('Lowest it takes').fill('3')
    await form.getByLabel('Highest it takes').fill('-3')
    await form.getByRole('button', { name: 'Put into the profile' }).click()
    await form.getByText('Highest it takes: not below 3', { exact: true }).waitFor()
    await form.getByLabel('It is', { exact: true }).selectOption({ label: 'another meaning…' })
    await form.getByLabel('Its name').fill('Upper signal')
    await form.getByRole('button', { name: 'Put into the profile' }).click()
    await form.getByText(/^Its name: lower-case words joined by dots/).waitFor()

    await soFar().getByLabel('Longest read, registers').fill('900')
    await page.keyboard.press('Enter')
    await soFar().getByText('Longest read: at most 125', { exact: true }).waitFor()
  })

  it('shows the registers of a described indicator in Settings, each by its name', async () => {
    await cell(page, 'Settings').click()
    await place(page, 'Settings').waitFor()
    await page.getByText('Registers as they are').click()
    await page.getByLabel('from address').fill('110')
    await button(/^Look$/).click()
    await page.getByRole('row', { name: /^114 .*Upper pair, signal/ }).waitFor()
    expect(workbench.complaints).toEqual([])
  })
})
