import { readFileSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest'
import { practiceJob } from '../../main/practice/practice-job.ts'
import { clockText } from '../../renderer/figures/number-text.ts'
import { describePeers } from '../peers/peer.ts'
import { cell, place, startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench } from './open-workbench.ts'

describePeers(['chromium'], 'Load, Sensors, Wiring and Input of a point', ({ chromium }) => {
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

  it('tells at every place what the load that is on lets expect, and tells it anew once a cable is stated', async () => {
    await cell(page, 'Load').click()
    await page.getByText('Once it is known').waitFor()
    await page.getByLabel('Load on it now').fill('500')
    const pressedAt = Date.now()
    await page.getByRole('button', { name: 'This load is on' }).click()
    // In the minute of the button, or the next.
    const clocks = [pressedAt, pressedAt + 60_000].map((at) => clockText(new Date(at)).slice(0, 5))
    await page.getByText(new RegExp(`^500 kg, typed at (${clocks.join('|')}), besides`)).waitFor()

    // by hand: 0.010 + 2.0021 x (500 + 150) / 1500 mV/V
    await place(page, 'Input').getByText('expect 0.8776').waitFor()
    await place(page, 'Wiring').getByText('no loss counted').waitFor()
    const table = page.getByRole('table', { name: 'Expected under this load' })
    await table.getByText('0.877\u200958').first().waitFor()
    // nothing is on the bench: the reading is off by all of it
    await place(page, 'Reading')
      .getByText(/ · \u2212(49|50)\d\.\d kg at 500 kg on it/)
      .waitFor()

    await place(page, 'Wiring').click()
    await page.getByRole('button', { name: 'Four wires' }).click()
    await page.getByLabel('Cable to the box', { exact: true }).selectOption('AWG 24')
    await typeInto('Length, cable to the box', '100')
    // 25.67 ohm/1000 ft (published wire tables): 2 x 8.4219 ohm before three 385 ohm side by side, 88.398 % are left
    await place(page, 'Input').getByText('expect 0.7758').waitFor()
    await page.getByText('116.02 kg · 580.1 d').waitFor()

    await page.reload()
    await place(page, 'Input').getByText('expect 0.7758').waitFor()
    expect(saved().wiring).toMatchObject({
      wires: 4,
      cable: { length: { value: '100', unit: 'm' }, conductor: { kind: 'awg', gauge: 24 } },
    })
    expect(workbench.complaints).toEqual([])
  })

  it('takes a calibration table from a spreadsheet once every row is right', async () => {
    await cell(page, 'Sensors').click()
    const paste = page.getByLabel('Paste load and output from a spreadsheet')
    await paste.fill('Load (kg)\tOutput (mV/V)\n0\t0.0100\n250\n500\t0.0090')
    const problems = page.getByRole('list', { name: 'Rows that are wrong' })
    await problems.getByText('row 3').waitFor()
    await problems.getByText('row 4').waitFor()
    expect(await page.getByRole('button', { name: 'Take the rows' }).isDisabled()).toBe(true)

    await paste.fill('Load (kg)\tOutput (mV/V)\n0\t0.0100\n250\t1.0112\n500\t2.0118')
    await page.getByRole('button', { name: 'Take the 3 rows' }).click()
    const table = page.getByRole('table', { name: 'Calibration table' })
    // by hand: 1.0112 lies 0.0003 above the middle of 0.0100 and 2.0118, of a span of 2.0018
    await table.getByText('+0.015').waitFor()
    expect(saved().sensors.certificates[0].table).toEqual([
      { load: { value: '0', unit: 'kg' }, output: { value: '0.0100', unit: 'mV/V' } },
      { load: { value: '250', unit: 'kg' }, output: { value: '1.0112', unit: 'mV/V' } },
      { load: { value: '500', unit: 'kg' }, output: { value: '2.0118', unit: 'mV/V' } },
    ])
    expect(workbench.complaints).toEqual([])
  })

  it('says in words, at Load and at Reading, that a load is more than the sensors bear', async () => {
    await cell(page, 'Load').click()
    await page.getByLabel('Load on it now').fill('5000')
    await page.getByRole('button', { name: 'This load is on' }).click()
    // by hand: 150 % of 3 x 500 kg less 150 kg of dead load
    const overload = page
      .getByRole('status')
      .getByText(/^Overload: 5\u2009?000\.0 kg said to be on, more than the safe load of 2\u2009?100\.0 kg/)
    await overload.waitFor()
    await place(page, 'Load').getByText('overload, 5').waitFor()
    await place(page, 'Reading').click()
    await overload.waitFor()
  })

  it('changes how many sensors there are and what all of them state', async () => {
    await cell(page, 'Sensors').click()
    await typeInto('Sensors in parallel', '4')
    await page.getByLabel('Rated output, sensor 4').waitFor()
    await page.getByRole('button', { name: 'All alike' }).click()
    await page.getByRole('button', { name: 'Give all 4 what sensor 1 states' }).click()
    await page.getByLabel('Rated output, all').waitFor()
    await typeInto('Input resistance within, all', '15')
    await place(page, 'Sensors').getByText('2.0018').waitFor()
    const { certificates } = saved().sensors
    expect(certificates.map((c: { serial: string }) => c.serial)).toEqual(['40117', '40118', '40119', ''])
    expect(new Set(certificates.map((c: { inputResistanceTolerance: { value: string } }) => c.inputResistanceTolerance.value))).toEqual(
      new Set(['15']),
    )
  })

  it('judges an ohmmeter’s value by the certificates, and prints the drawing without the form', async () => {
    await cell(page, 'Sensors').click()
    for (const n of [1, 2, 3]) await typeInto(`Input resistance within, sensor ${n}`, '15')
    await place(page, 'Wiring').click()
    await page.getByRole('tab', { name: 'Ohms between the leads' }).click()
    await page.getByText('Power off, leads lifted.').waitFor()
    const row = page.getByRole('row', { name: /^excitation \+, excitation \u2212/ })
    // three of 385 ohm within 15 ohm, side by side
    await row.getByText('123.3 to 133.3').waitFor()
    await typeInto('Measured between excitation+ and excitation-', '385')
    await row.getByText('outside').waitFor()
    await typeInto('Measured between excitation+ and excitation-', '128.4')
    await row.getByText('within').waitFor()

    expect(await page.getByLabel('Colours of the leads').inputValue()).toBe('')
    await page.getByLabel('Colours of the leads').selectOption('red, black; green, white')
    const drawing = page.getByRole('img', { name: 'Wiring of WT-101' })
    await drawing.getByText('green').waitFor()
    await page.emulateMedia({ media: 'print' })
    expect(await drawing.isVisible()).toBe(true)
    expect(await page.getByText('Printed').isVisible()).toBe(true)
    expect(await page.getByLabel('Cable to the box', { exact: true }).isVisible()).toBe(false)
    expect(await page.getByRole('button', { name: 'Stop sending' }).isVisible()).toBe(false)
  })

  it('says that an input range is too small before it is written, puts it only into what is intended, and takes it back', async () => {
    await cell(page, 'Input').click()
    await page.getByRole('img', { name: 'Room in the input, mV/V' }).getByText('limit 2 mV/V, held').waitFor()
    // Ohm's law: three of 385 ohm at 5 V
    await page.getByText('39.0 mA').waitFor()
    await page.getByLabel('Input range').selectOption('1 mV/V')
    await page.getByText(/^1 mV\/V, intended: Maximum load does not fit/).waitFor()
    await page.getByText('held 2 mV/V; intended, not written').waitFor()
    await page.getByRole('button', { name: 'Review and write 1 setting' }).waitFor()
    expect(saved().intended).toEqual({ 'input.range@1': '1 mV/V' })

    // taken back where it was put, and again among all settings
    await page.getByRole('button', { name: 'Keep what is held: Input range' }).click()
    await page.getByText('held 2 mV/V; nothing intended').waitFor()
    expect(await page.getByLabel('Input range').inputValue()).toBe('2 mV/V')
    expect(saved().intended).toEqual({})
    await page.getByLabel('Input range').selectOption('1 mV/V')
    await page.getByText('held 2 mV/V; intended, not written').waitFor()

    await place(page, 'Settings').click()
    await page.getByLabel('Unit of the reading, intended').selectOption('t')
    // by hand: 1 t for the signal of 1 kg
    await place(page, 'Scaling').getByText('as intended \u221299.90 % off').waitFor()
    await place(page, 'Scaling').click()
    await page.getByText(/^As intended \(.*unit of the reading t\): .* put them into intended values\.$/).waitFor()
    await place(page, 'Settings').click()
    await page.getByRole('button', { name: 'Keep what is held: Unit of the reading' }).click()
    await place(page, 'Scaling').getByText('as intended').waitFor({ state: 'detached' })
    await page.getByRole('button', { name: 'Keep what is held: Input range' }).click()
    await page.getByText('nothing is intended yet').waitFor()
    expect(await page.getByRole('button', { name: /^Review and write \d/ }).count()).toBe(0)
    expect(saved().intended).toEqual({})
    expect(workbench.complaints).toEqual([])
  })

  it('offers the units of what the sensors measure first, and says what is wrong with another', async () => {
    await cell(page, 'Settings').click()
    const unit = page.getByLabel(/^Unit of the reading.*, intended$/)
    await unit.waitFor()
    expect(await unit.locator('> option').allTextContents()).toEqual(expect.arrayContaining(['kg', 't', 'N', 'kN']))
    expect(await unit.locator('> option', { hasText: 'bar' }).count()).toBe(0)
    expect(await unit.locator('optgroup[label="Not units of mass or force"] > option').allTextContents()).toEqual(['bar'])
    await unit.selectOption('bar')
    await page.getByText(/^bar is no unit of mass or force: .* Right would be kg, t, N, kN/).waitFor()
    await unit.selectOption('kg')
    await page.getByText(/^bar is no unit/).waitFor({ state: 'detached' })
  })

  it('shows signals of an input in mV as mV, and the counts that go into its registers', async () => {
    await workbench.close()
    const job = practiceJob()
    const [indicator, ...indicators] = job.indicators
    const [point, ...points] = job.points
    if (!indicator || !point) throw new Error('the practice job has them')
    const counting = { ...indicator, profileId: 'counts-millivolt-input' }
    const measured = { ...point.measured, excitation: { value: '10', unit: 'V' as const } }
    workbench = await openWorkbench(browser, {
      job: { ...job, indicators: [counting, ...indicators], points: [{ ...point, measured }, ...points] },
    })
    page = workbench.page
    await cell(page, 'Scaling').click()
    await page.getByRole('columnheader', { name: 'mV', exact: true }).waitFor()
    await page.getByText('The values, one by one').click()
    const upper = page.getByRole('table', { name: 'The values, one by one' }).getByRole('row', { name: /^Upper pair, counts/ })
    // By hand, 20 mV being 8 388 607 counts: zero (0.010 + 2.0021 x 150 / 1500) x 10 V = 2.1021 mV are 881 684.5 counts, held as 881 685;
    // 1000 kg add 2.0021 x 1000 / 1500 x 10 V = 13.347 333 mV, 5 598 276.7 counts, to what is held.
    expect((await upper.textContent())?.replace(/[^0-9]/g, '')).toBe('6479962')
  })
})
