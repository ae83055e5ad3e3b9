import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Job } from '../../app/job/schema.ts'
import { describePeers } from '../peers/peer.ts'
import { cell, place } from './open-page.ts'
import { type OpenProgram, openProgram } from './open-program.ts'

/** Each walk goes on where the one before it ended, as one user's morning does. */
describePeers(['chromium'], 'from an empty job to two checked points, on the practice bench', ({ chromium }) => {
  let program: OpenProgram
  let page: Page

  beforeAll(async () => {
    program = await openProgram(chromium)
    page = program.page
  })
  afterAll(() => program.close())

  const button = (name: RegExp | string, within: Pick<Page, 'getByRole'> = page) =>
    within.getByRole('button', { name, exact: typeof name === 'string' })
  const typeInto = async (label: string, text: string) => {
    await page.getByLabel(label, { exact: true }).fill(text)
    await page.keyboard.press('Enter')
  }
  const tableCell = (tag: string, name: string) => cell(page, name, tag)
  const saved = (): Job => JSON.parse(readFileSync(join(program.folder, 'jobs', 'two-hoppers.job.json'), 'utf8'))

  it('begins with nothing: a job, a bus, the units that answer on it, a point for each', async () => {
    await button('Add…').click()
    await page.getByRole('region', { name: 'Add measuring points' }).waitFor()
    await button('Feed mill, line 2').click()
    await page.getByLabel('What is it called?').fill('Two hoppers')
    await page.getByLabel('Indicators', { exact: true }).selectOption('simulated, on the practice bench')
    await button('Make the job and open it').click()
    await button('Two hoppers').waitFor()
    await page.getByText('This job has no measuring points yet').waitFor()
    expect(await page.getByRole('region', { name: 'Add measuring points' }).count()).toBe(0)
    await page.getByLabel('Who is at the machine?').fill('A. Tester')
    await button('Start the visit').click()
    await page.getByText(/visit .*, A\. Tester/).waitFor()

    await button('Add a bus').click()
    await button('Add and open the bus').click()
    // The way on leads there whatever the panel shows, and never closes it.
    const look = page.getByRole('region', { name: /^Look for units on/ })
    const wayOn = page.getByRole('main').locator('.points-scroll')
    await look.waitFor()
    await button('Edit…').click()
    await look.waitFor({ state: 'detached' })
    await button('Look for units…', wayOn).click()
    await look.waitFor()
    await button('Close the panel').click()
    await button('Look for units…', wayOn).click()
    await page.getByLabel('Unit addresses').fill('1-6')
    await button('Start looking', look).click()
    for (const [unit, name] of [
      [1, 'Hopper A unit'],
      [5, 'Hopper B unit'],
    ] as const) {
      await button(`Take unit ${unit}`).click()
      const form = page.getByRole('form', { name: 'Add an indicator' })
      await form.getByLabel('Name').fill(name)
      await button('Add this indicator').click()
      await page.getByRole('row', { name: new RegExp(`^${name} .*identity confirmed`) }).waitFor()
    }
    await button('Close the panel').click()

    await button('Add a point').click()
    for (const [tag, name, maximum, on] of [
      ['WT-1', 'Hopper A', '1000 kg', 'Hopper A unit'],
      ['WT-2', 'Hopper B', '800 kg', 'Hopper B unit'],
    ] as const) {
      await page.getByLabel('Tag', { exact: true }).fill(tag)
      await page.getByLabel('Name', { exact: true }).fill(name)
      await page.getByLabel('Maximum load, with unit').fill(maximum)
      await page.getByLabel('Scale interval d', { exact: true }).fill('0.2')
      await page.getByLabel('Indicator and channel').selectOption(on)
      await button('Add this point').click()
      await page.getByRole('status').getByText(`${tag} is added`).waitFor()
    }
    await button('Close the panel').click()
    for (const tag of ['WT-1', 'WT-2'])
      await tableCell(tag, 'Reading')
        .getByText(/\d (kg|lb)$/)
        .waitFor()
  })

  it('types what the certificates state, and puts the scaling into what is intended', async () => {
    const points = [
      { tag: 'WT-1', outputs: ['2.0018', '2.0024', '2.0021'], deadLoad: '150', tolerance: '0.5' },
      { tag: 'WT-2', outputs: ['2.0009', '2.0013', '2.0016'], deadLoad: '140', tolerance: '0.4' },
    ]
    for (const { tag, outputs, deadLoad, tolerance } of points) {
      await tableCell(tag, 'Sensors').click()
      await typeInto('Sensors in parallel', '3')
      await typeInto('Capacity, all', '500 kg')
      await typeInto('Zero balance, all', '0.010')
      await typeInto('Input resistance, all', '385')
      await typeInto('Output resistance, all', '350')
      await button('Each its own').click()
      for (const [i, output] of outputs.entries()) await typeInto(`Rated output, sensor ${i + 1}`, output)
      await place(page, 'Load').click()
      await typeInto('Dead load', `${deadLoad} kg`)
      await typeInto('Tolerance', tolerance)
      await typeInto('Where it comes from', 'half a part in a thousand of maximum load')
      await place(page, 'Scaling').click()
      await button('Take the measured zero').click()
      await page.getByText('Zero signal, measured').waitFor()
      await button('Put into intended values').click()
      await page.getByText('these values are what is intended').waitFor()
      await page.keyboard.press('Escape')
    }
    const stated = saved().points.map((p) => p.sensors.certificates)
    expect(stated.map((own) => own.map((c) => c.ratedOutput?.value))).toEqual(points.map((p) => p.outputs))
    // typed one right after the other
    expect(
      stated.flat().map((c) => [c.capacity?.value, c.zeroBalance?.value, c.inputResistance?.value, c.outputResistance?.value]),
    ).toEqual(Array.from({ length: 6 }, () => ['500', '0.010', '385', '350']))
  })

  it('reviews and writes both, and both hold what is intended', async () => {
    await button(/^Review and write \d+ settings…$/).click()
    const dialog = page.getByRole('dialog')
    await button(/^Write \d+ settings to two indicators$/, dialog).click()
    for (const tag of ['WT-1', 'WT-2'])
      await dialog.getByText(new RegExp(`^${tag}: \\d+ settings written, read back equal, saved`)).waitFor()
    await button('Close', dialog).last().click()
    await page.getByText('The indicators hold what is intended').waitFor()
  })

  it('checks both at once with weights from the bench, and hands both sheets over', async () => {
    await button('Practice bench').click()
    const bench = page.getByRole('region', { name: 'Practice bench' }).first()
    const list = page.getByRole('navigation', { name: 'Measuring points' })
    await tableCell('WT-1', 'Check').click()
    for (const tag of ['WT-1', 'WT-2']) {
      await list.getByRole('button', { name: new RegExp(`^${tag}`) }).click()
      await button('Start the check').click()
      await page.getByRole('heading', { name: 'Step 1 of 3, unloaded' }).waitFor()
    }
    const takeAt = async (load: RegExp) => {
      for (const tag of ['WT-1', 'WT-2']) {
        await list.getByRole('button', { name: new RegExp(`^${tag}`) }).click()
        await button(load).click()
      }
    }
    await takeAt(/^Take the reading unloaded$/)
    for (const n of [1, 2]) {
      await button('WT-1: put a weight of 200 kg on', bench).click()
      await bench.getByText(`${200 * n} kg`, { exact: true }).waitFor()
    }
    await button('WT-2: put a weight of 200 kg on', bench).click()
    await takeAt(/^Take the reading at (400|200) kg$/)
    await button('WT-2: take a weight of 200 kg off', bench).click()
    for (const _ of [1, 2]) await button('WT-1: take a weight of 200 kg off', bench).click()
    await takeAt(/^Take the reading unloaded$/)
    for (const tag of ['WT-1', 'WT-2']) {
      await list.getByRole('button', { name: new RegExp(`^${tag}`) }).click()
      await button('Finish the check').click()
      await place(page, 'Check')
        .getByText(/^within/)
        .waitFor()
      await button('Open the handover sheet').click()
      const sheet = page.getByTitle(`Handover sheet of ${tag}`).contentFrame()
      await sheet.getByText('Practice: simulated indicator').waitFor()
      await sheet.getByText('As left: within tolerance').waitFor()
      await page.keyboard.press('Escape')
      await page.getByRole('dialog').waitFor({ state: 'detached' })
    }
    const loads = saved().visits[0]?.checks.map((c) => c.steps.map((s) => s.load))
    expect(loads).toEqual([
      ['0', '400', '0'],
      ['0', '200', '0'],
    ])
    expect(program.complaints).toEqual([])
  })
})
