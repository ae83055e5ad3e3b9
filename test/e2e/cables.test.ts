import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { describePeers } from '../peers/peer.ts'
import { cell, place } from './open-page.ts'
import { type OpenProgram, openProgram } from './open-program.ts'

/** On a pseudo-terminal with an adapter, as `npm start` opens it. Each step begins with everything plugged in again. */
describePeers(['chromium'], 'cables pulled and another master, at the practice bench', ({ chromium }) => {
  let program: OpenProgram
  let page: Page

  beforeAll(async () => {
    program = await openProgram(chromium)
    page = program.page
    await page.getByLabel('Who is at the machine?').fill('A. Tester')
    await page.getByRole('button', { name: 'Start the visit' }).click()
    await page.getByRole('button', { name: 'Practice bench', exact: true }).click()
    await live('WT-101')
  })
  afterAll(async () => {
    expect(program.complaints).toEqual([])
    await program.close()
  })

  const button = (name: RegExp | string) => page.getByRole('button', { name, exact: typeof name === 'string' })
  const live = (tag: string) =>
    cell(page, 'Input', tag)
      .getByText(/\d mV\/V$/)
      .waitFor()
  const backToTable = () => button(/^All points/).click()
  const header = (text: string | RegExp) => page.getByRole('banner').getByText(text).first().waitFor()

  it('a sensor cable is said at the input, and nothing is said of the link', async () => {
    await button('Hopper A transmitter: pull the sensor cable').click()
    await page.getByText('sensor cable is out').waitFor()
    await cell(page, 'Input').getByText('at its limit').waitFor()
    await cell(page, 'Reading').click()
    await page
      .getByText(/over range/)
      .first()
      .waitFor()
    await place(page, 'Input').getByText('a lead open, or the range too small').waitFor()
    await page.getByText('at its limit: a lead open, or the range too small', { exact: true }).waitFor()
    await page.getByText('input at its limit', { exact: true }).first().waitFor()
    await place(page, 'Input').click()
    await page.getByText('at its limit: a lead open, or the range too small. What the sensor gives is not known.').waitFor()
    await place(page, 'Reading').click()
    expect(
      await page
        .getByRole('banner')
        .getByText(/silent/)
        .count(),
    ).toBe(0)

    await button('Hopper A transmitter: put the sensor cable back').click()
    await place(page, 'Reading')
      .getByText(/^steady/)
      .waitFor()
    await backToTable()
    await live('WT-101')
  })

  it('a silent unit is said at the link and not at its sensors; its neighbour goes on; put back it is there again', async () => {
    const sensors = await cell(page, 'Sensors').textContent()
    await button('Hopper A transmitter: pull the cable').click()
    await cell(page, 'Input').getByText('no answer').waitFor()
    await header('1 of 2 silent')
    await live('WT-102')
    expect(await cell(page, 'Sensors').textContent()).toBe(sensors)
    await cell(page, 'Input').click()
    await place(page, 'Input').getByText('the link, not the sensor').waitFor()
    await page.getByText(/signal, measured · stale, no answer/).waitFor()
    await backToTable()

    await button('Hopper A transmitter: put the cable back').click()
    await live('WT-101')
    await header('2 answering')
  })

  it('an adapter is said once, for its bus; the other bus goes on; put back it is opened again by itself', async () => {
    await button('Practice line: pull the adapter').click()
    await page.getByText(/Practice line is down\..*opened again as soon as it is back/).waitFor()
    await cell(page, 'Input').getByText('link down').waitFor()
    await live('WT-201')

    await button('Practice line: put the adapter back').click()
    await live('WT-101')
    await page.getByText(/Practice line is down/).waitFor({ state: 'detached' })
  })

  it('another master is named, halts sending and writing, and once it is gone one goes on', async () => {
    await cell(page, 'Scaling').click()
    await button('Put into intended values').click()
    await button('Let another master ask').click()
    await page.getByText(/Practice line is halted\. Another master is sending on this bus/).waitFor()
    await place(page, 'Input').getByText('other master').waitFor()
    await button(/^Review and write \d+ setting/).click()
    const dialog = page.getByRole('dialog')
    await dialog.getByText(/Another master is sending on this bus/).waitFor()
    expect(await dialog.getByRole('button', { name: /^Write \d/ }).count()).toBe(0)
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'detached' })

    await button('Listen again, then send on Practice line').click()
    await page.getByText(/Listened again: it was still heard at \d\d:\d\d:\d\d; sending stays halted/).waitFor()
    await button('End the other master').click()
    await button('Listen again, then send on Practice line').click()
    await place(page, 'Input')
      .getByText(/\d mV\/V$/)
      .waitFor()
    await button(/^Review and write \d+ setting/).click()
    await dialog.getByRole('button', { name: /^Write \d+ settings? to WT-101$/ }).click()
    await dialog.getByText(/written, read back equal, saved/).waitFor()
  })
})
