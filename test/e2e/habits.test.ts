import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { serveWeb } from '../../main/web/server.ts'
import { type LineHost, startLineHost } from '../builders/line-host.ts'
import { describePeers } from '../peers/peer.ts'
import { dropFile } from './drop-file.ts'
import { cell, openPage, place } from './open-page.ts'
import { type OpenProgram, openProgram } from './open-program.ts'

describePeers(['chromium'], 'habits of the workbench on screen', ({ chromium }) => {
  let program: OpenProgram
  let page: Page

  beforeAll(async () => {
    program = await openProgram(chromium)
    page = program.page
    await page.getByRole('button', { name: 'Not needed' }).click()
  })
  afterAll(async () => {
    expect(program.complaints).toEqual([])
    await program.close()
  })

  const button = (name: RegExp | string) => page.getByRole('button', { name, exact: typeof name === 'string' })
  const text = (name: RegExp | string) => page.getByText(name).first().waitFor()
  const typeInto = async (label: string, typed: string) => {
    await page.getByLabel(label, { exact: true }).fill(typed)
    await page.keyboard.press('Enter')
  }

  it('an edit is undone and done again; a decimal comma is taken where the job has it, and what could mean two things is asked', async () => {
    await cell(page, 'Load').click()
    await typeInto('Maximum load', '900')
    await place(page, 'Load')
      .getByText(/Max 900/)
      .waitFor()
    await button(/^Undo: /).click()
    await place(page, 'Load')
      .getByText(/Max 1.?000/)
      .waitFor()
    await page.keyboard.press('Control+Shift+Z')
    await place(page, 'Load')
      .getByText(/Max 900/)
      .waitFor()
    await page.keyboard.press('Control+Z')
    await text(/^Undone: Maximum load of WT-101\.$/)
    // Where the foot is short, a step says nothing but that it undoes or does again; its words are never cut.
    const stepsCut = () =>
      page.locator('.history-step').evaluateAll(
        (steps) =>
          steps.filter((step) => {
            const [seen, words] = [step.getBoundingClientRect(), step.querySelector('span')!.getBoundingClientRect()]
            return words.top < seen.bottom - 1 && words.right > seen.right + 1
          }).length,
      )
    const size = page.viewportSize()!
    for (const width of [size.width, 1100, 1000, 900]) {
      await page.setViewportSize({ ...size, width })
      expect([width, await stepsCut()]).toEqual([width, 0])
    }
    await page.setViewportSize(size)

    await button('Feed mill, line 2').click()
    await page.getByRole('region', { name: 'Feed mill, line 2' }).getByLabel('Decimal sign').last().selectOption('comma, 2,0010')
    await button('Close the panel').click()
    await place(page, 'Sensors').getByText('2,0021').waitFor()
    await place(page, 'Sensors').click()
    await typeInto('Rated output, sensor 1', '2,0019')
    await expect.poll(() => program.host.topics.get('job')?.points[0]?.sensors.certificates[0]?.ratedOutput?.value).toBe('2.0019')
    await typeInto('Capacity, sensor 1', '1.200')
    await text(/1\.200.*(could|can) (be|mean)|means? either|1200/)
    // What was typed goes, then the field is left, then the point.
    for (const _ of ['value', 'field', 'point']) await page.keyboard.press('Escape')
    await page.getByRole('table').first().waitFor()
    await cell(page, 'Sensors').waitFor()
  })

  it('a file is dropped on the window: a profile is taken into the job, another kind is refused with what would be right', async () => {
    const profile = JSON.parse(readFileSync('app/profiles/pair-table-float32.profile.json', 'utf8'))
    await dropFile(page, 'site-scale.profile.json', JSON.stringify({ ...profile, id: 'site-scale', name: 'Site scale' }))
    await text(/^The profile site-scale is in this job now/)
    await button('Dismiss').click()
    await dropFile(page, 'notes.txt', 'weights are in the shed')
    await text(/^notes\.txt is none of the files that are taken/)
    await button('Dismiss').click()
  })

  it('a unit is switched off and on at the bench; a line is listened to and its frames are kept', async () => {
    await button('Practice bench').click()
    const inputOfB = cell(page, 'Input', 'WT-102')
    await button('Hopper B transmitter: switch it off').click()
    await inputOfB.getByText('no answer').waitFor()
    await button('Hopper B transmitter: switch it on').click()
    await inputOfB.getByText(/mV\/V$/).waitFor()
    await button('Close the panel').click()

    await button('Buses').click()
    await button('Listen…').first().click()
    await button(/^Listen to Practice line for/).click()
    await text(/^Listening, \d+ of \d+ s/)
    await button('Stop listening').click()
    await button(/^Listen to Practice line for/).waitFor()
    await cell(page, 'Reading').getByText(/kg$/).waitFor()
    await button('Save every frame to a file').click()
    await text(/^Saving frames to .*, [1-9]\d* so far/)
    await button('Stop saving frames').click()
    await text(/^\d+ frames kept in /)
  })

  it('new units get their addresses one by one, each looked for and asked again', async () => {
    const line: LineHost = await startLineHost({
      way: 'rtu-over-tcp',
      units: [11, 12].map((serial) => ({ key: `new-${serial}`, unit: 1, serial, on: false })),
      indicators: [5, 6].map((unit) => ({ id: `ind-${unit}`, unit })),
    })
    const shell = await serveWeb(line.host, { folder: 'out/renderer', port: 0 })
    const { page: screen, complaints } = await openPage(program.browser, shell.url)
    await line.host.call('bus.open', { busId: line.host.topics.get('job')?.buses[0]?.id ?? '' })
    await screen.getByRole('button', { name: 'Buses', exact: true }).click()
    await screen.getByRole('button', { name: 'New units…' }).click()
    for (const [i, unit] of [5, 6].entries()) {
      line.bench.power(`new-${11 + i}`, true)
      await screen.getByRole('button', { name: 'Look for the new unit' }).nth(i).click()
      await screen.getByText('One unit answers at address 1, and it is what the profile says.').waitFor()
      await screen.getByRole('button', { name: `Give it address ${unit}` }).click()
      await screen.getByText(`IND-${unit} answers at ${unit}.`).waitFor()
      await screen.getByText('Nobody answers at the old address any more').nth(i).waitFor()
      expect(line.bench.saved(`new-${11 + i}`)['bus.address']).toEqual([unit])
    }
    expect(complaints).toEqual([])
    await screen.context().close()
    await shell.close()
    await line.close()
  })
})
