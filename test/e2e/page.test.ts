import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest'
import { makeSafe } from '../../app/safety-words.ts'
import { describePeers } from '../peers/peer.ts'
import { cell, place, startBrowser } from './open-page.ts'
import { type OpenWorkbench, openWorkbench, servePage } from './open-workbench.ts'

describePeers(['chromium'], 'the page in a browser, on the practice bench', ({ chromium }) => {
  let browser: Browser
  let workbench: OpenWorkbench
  let page: Page

  beforeAll(async () => {
    browser = await startBrowser(chromium)
  })
  afterAll(() => browser.close())

  beforeEach(async () => {
    workbench = await openWorkbench(browser, { visit: false })
    page = workbench.page
  })
  afterEach(() => workbench.close())

  const startVisit = async () => {
    await page.getByLabel('Who is at the machine?').fill('A. Tester')
    await page.getByRole('button', { name: 'Start the visit' }).click()
    await page.getByText(/visit .*, A\. Tester/).waitFor()
  }
  const putOnBench = async (load: string) => {
    await page.getByLabel('Load on the practice bench').fill(load)
    await page.getByRole('button', { name: 'Put it on' }).click()
  }
  const takeReadings = async (loads: readonly string[]) => {
    await page.getByRole('button', { name: 'Start the check' }).click()
    for (const [i, load] of loads.entries()) {
      await page.getByText(`Step ${i + 1} of 3`).waitFor()
      await putOnBench(load)
      await page.getByRole('button', { name: /^Take the reading/ }).click()
    }
    await page.getByRole('button', { name: 'Finish the check' }).click()
  }
  const writeWhatIsReviewed = async (thenRow?: RegExp) => {
    await page.getByRole('button', { name: /^Write \d+ settings? to WT-101$/ }).click()
    const dialog = page.getByRole('dialog')
    await dialog.getByText(/written, read back equal, saved/).waitFor()
    if (thenRow) await dialog.getByRole('row', { name: thenRow }).waitFor()
    await dialog.getByRole('button', { name: 'Close' }).last().click()
  }
  const text = (name: RegExp | string) => page.getByText(name).first().waitFor()

  it('opens at the table of all points, says that it is practice, and shows a live reading, without a complaint of the browser', async () => {
    await page.getByText('Practice', { exact: true }).waitFor()
    expect(await page.getByRole('columnheader').allTextContents()).toHaveLength(9)

    await cell(page, 'Reading').getByText(/kg/).waitFor()
    await cell(page, 'Input').getByText(/mV\/V/).waitFor()

    expect(workbench.complaints).toEqual([])
  })

  it('is moved through by keys: Enter opens a cell, arrows change the place, Esc goes back', async () => {
    await cell(page, 'Reading').focus()
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { name: /Hopper A transmitter/ }).waitFor()

    await page.keyboard.press('ArrowLeft')
    expect(await place(page, 'Scaling').getAttribute('aria-current')).toBe('page')

    await page.keyboard.press('Escape')
    await page.getByRole('table').waitFor()
    await cell(page, 'Scaling').waitFor()
  })

  it('follows the load on the bench', async () => {
    await cell(page, 'Reading').click()

    await putOnBench('400')

    await place(page, 'Reading')
      .getByText(/^400\.\d kg$/)
      .waitFor()
    await text(/On it now: 400 kg/)
  })

  it('asks before a large amount is zeroed, with what is to be made safe first', async () => {
    await cell(page, 'Reading').click()
    await putOnBench('400')
    const zero = page.getByRole('region', { name: 'Commands to the indicator' }).getByRole('button', { name: 'Zero', exact: true })
    await place(page, 'Reading')
      .getByText(/^400\.\d kg$/)
      .waitFor()
    await zero.click()

    const asked = page.getByRole('alertdialog', { name: 'Confirm zero' })
    await asked.getByText(makeSafe).waitFor()
    await asked.getByRole('button', { name: 'Cancel' }).click()
    await asked.waitFor({ state: 'detached' })
  })

  it('carries a point from as found to as left: check, measured zero, intended, review, write, check again', async () => {
    await startVisit()
    await cell(page, 'Check').click()
    await takeReadings(['0', '500', '0'])
    await page
      .getByText('outside tolerance', { exact: true })
      .or(page.getByText('within tolerance', { exact: true }))
      .waitFor()

    await place(page, 'Scaling').click()
    await page.getByRole('button', { name: 'Take the measured zero' }).click()
    await text('Zero signal, measured')
    await page.getByRole('button', { name: 'Put into intended values' }).click()
    await page.getByRole('button', { name: /^Review and write \d+ setting/ }).click()
    await text(/A reading of 0 moves by/)
    // gross reading before, now, and expected with nothing on the bench
    await writeWhatIsReviewed(/^WT-101 \S+ \u2212?0\.[0-4] kg 0\.0$/)

    await place(page, 'Settings').getByText('as intended').waitFor()
    await place(page, 'Settings').click()
    await page.getByRole('columnheader', { name: 'as left, so far' }).waitFor()
    await text('WT-101: the indicator holds what is intended')
    await place(page, 'Check').getByText('superseded').waitFor()

    await place(page, 'Check').click()
    await takeReadings(['0', '500', '0'])
    await page.getByText('within tolerance', { exact: true }).waitFor()
    await text('as left')
    expect(workbench.complaints).toEqual([])
  })

  it('puts back what was found', async () => {
    await startVisit()
    const found = workbench.practice.host.topics.get('indicator', 'ind-1')?.held?.values['scale.upper.signal@1']
    await cell(page, 'Scaling').click()
    await page.getByRole('button', { name: 'Put into intended values' }).click()
    await page.getByRole('button', { name: /^Review and write/ }).click()
    await writeWhatIsReviewed()
    expect(workbench.practice.host.topics.get('indicator', 'ind-1')?.held?.values['scale.upper.signal@1']).not.toEqual(found)

    await page.getByRole('button', { name: 'Restore earlier settings…' }).click()
    await page.getByRole('button', { name: 'As found' }).click()
    await writeWhatIsReviewed()

    expect(workbench.practice.host.topics.get('indicator', 'ind-1')?.held?.values['scale.upper.signal@1']).toEqual(found)
  })

  it('reviews nothing while sending is stopped, and goes on from there once it is resumed', async () => {
    await cell(page, 'Scaling').click()
    await page.getByRole('button', { name: 'Put into intended values' }).click()
    await page.getByRole('button', { name: /^Stop sending/ }).click()
    await text(/^Sending is stopped/)
    await page.getByRole('button', { name: /^Review and write/ }).click()
    const dialog = page.getByRole('dialog')
    await dialog.getByRole('button', { name: 'Close, write nothing' }).waitFor()
    await dialog.getByRole('button', { name: 'Resume sending and read again' }).click()
    await dialog.getByRole('button', { name: /^Write \d+ setting/ }).waitFor()
    expect(workbench.practice.host.topics.get('session')?.stopped).toBe(false)
  })

  it('writes nothing before somebody is named, and says why', async () => {
    await cell(page, 'Scaling').click()
    await page.getByRole('button', { name: 'Put into intended values' }).click()
    await page.getByRole('button', { name: /^Review and write/ }).click()
    await page.getByRole('button', { name: /^Write \d+ setting/ }).click()

    await page
      .getByRole('dialog')
      .getByText(/not written/)
      .waitFor()
    await page
      .getByRole('dialog')
      .getByText(/Say who is at the machine first/)
      .waitFor()
  })

  it('stops sending by Shift Esc wherever one is, strikes out what has grown old, and resumes', async () => {
    await cell(page, 'Reading').click()
    await place(page, 'Reading').getByText('steady').waitFor()

    await page.keyboard.press('Shift+Escape')

    await text('Sending is stopped.')
    await page.locator('.digits .struck').waitFor()
    expect(await page.getByRole('button', { name: 'Zero' }).isDisabled()).toBe(true)
    await text('not now: sending is stopped')
    expect(await place(page, 'Reading').textContent()).not.toContain('steady')

    await page.getByRole('button', { name: 'Resume sending' }).click()
    await place(page, 'Reading').getByText('steady').waitFor()
  })

  it('keeps what was typed and shows the newer value when the field was changed elsewhere meanwhile', async () => {
    await cell(page, 'Load').click()
    const field = page.getByLabel('Maximum load')
    await field.fill('800 kg')
    const { revision } = workbench.practice.host.topics.get('job') ?? { revision: -1 }
    await workbench.practice.host.call('point.edit', { pointId: 'wt-101', revision, change: { maximumLoad: '900' } })
    await place(page, 'Load')
      .getByText(/Max 900/)
      .waitFor()

    await field.press('Enter')

    await text('Changed elsewhere meanwhile: it is now 900 kg. Enter puts yours in its place, Esc keeps it.')
    expect(await field.inputValue()).toBe('800 kg')
    expect(await field.getAttribute('aria-invalid')).not.toBe('true')
    await field.press('Enter')
    await place(page, 'Load')
      .getByText(/Max 800/)
      .waitFor()
  })

  it('takes a quantity in another unit as typed, and refuses what is none with the reason', async () => {
    await cell(page, 'Sensors').click()
    const field = page.getByLabel('Capacity, sensor 1')

    await field.fill('half a tonne')
    await field.press('Enter')
    await text(/does not begin with a number/)
    await field.fill('0.5 t')
    await field.press('Enter')

    await expect
      .poll(() => workbench.practice.host.topics.get('job')?.points[0]?.sensors.certificates[0]?.capacity)
      .toEqual({ value: '0.5', unit: 't' })
  })

  it('shows the handover sheet in a frame that runs no script', async () => {
    await cell(page, 'Check').click()
    await page.getByRole('button', { name: 'Open the handover sheet' }).click()

    const frame = page.getByTitle('Handover sheet of WT-101')
    await frame
      .contentFrame()
      .getByText(/Practice: simulated/)
      .waitFor()
    expect(await frame.getAttribute('sandbox')).not.toContain('allow-scripts')
  })

  it('says that the host is silent while it is held up, lets no reading pass for a live one, and goes on after it', async () => {
    await cell(page, 'Reading').click()
    const chain = page.getByRole('navigation', { name: /^Chain/ })
    await chain.getByText('steady').waitFor()
    // Host and test are held up together; the page keeps what it said meanwhile.
    await page.evaluate(() => {
      const said: string[] = []
      Object.assign(globalThis, { said })
      new MutationObserver(() => {
        const text = document.body.textContent
        if (text.includes('The host is silent')) said.push(document.querySelector('nav[aria-label^="Chain"]')?.textContent ?? '')
      }).observe(document.body, { subtree: true, childList: true, characterData: true })
    })
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 7_000)
    await chain.getByText('steady').waitFor()
    await page.getByText('The host is silent').waitFor({ state: 'detached' })
    const said = await page.evaluate(() => (globalThis as unknown as { said: string[] }).said)
    expect(said.at(0)).toBeDefined()
    expect(said.filter((chain) => chain.includes('steady') || !/\bold\b/.test(chain))).toEqual([])
  })

  it('says that the host is lost, lets no reading pass for a live one, and is whole again at its new address', async () => {
    await cell(page, 'Reading').click()
    const chain = page.getByRole('navigation', { name: /^Chain/ })
    await chain.getByText('steady').waitFor()
    await workbench.shell.close()
    await text(/The connection to the host is lost; trying again/)
    await chain.getByText(/\bold\b/).waitFor()
    await text(/Host not reached/)
    await page.getByRole('button', { name: 'Zero', exact: true, disabled: true }).waitFor()
    expect(await chain.textContent()).not.toContain('steady')
    await page.getByRole('button', { name: /^Stop sending/ }).click()
    await text(/Sending was not stopped/)

    workbench.shell = await servePage(workbench.practice)
    await page.goto(workbench.shell.url)
    await cell(page, 'Reading').getByText(/kg/).waitFor()
  })
})
