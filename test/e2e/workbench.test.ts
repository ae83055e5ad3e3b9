import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, readFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, chromium, type Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { describePeers, findPeer } from '../peers/peer.ts'

/** The real program: `npm start` without a window, on the practice bench. */
function startWorkbench(folder: string): Promise<{ child: ChildProcess; url: string }> {
  const child = spawn(process.execPath, [join(import.meta.dirname, '../../main/start.ts'), '--browser', '--no-open', '--folder', folder], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  return new Promise((resolve, reject) => {
    child.once('exit', (code) => reject(new Error(`the host ended with ${code}`)))
    let said = ''
    child.stdout?.on('data', (data) => {
      said += String(data)
      const url = /http:\/\/127\.0\.0\.1:\d+\/\?token=\S+/.exec(said)?.[0]
      if (url) resolve({ child, url })
    })
  })
}

describePeers(['chromium'], 'a new user on the practice bench, in a real browser', () => {
  let child: ChildProcess
  let browser: Browser
  let page: Page
  let folder: string
  const complaints: string[] = []

  beforeAll(async () => {
    const found = findPeer('chromium')
    if (!found.ok) throw new Error(found.why)
    folder = mkdtempSync(join(tmpdir(), 'spanwright-e2e-'))
    const started = await startWorkbench(folder)
    child = started.child
    browser = await chromium.launch({
      executablePath: found.path,
      args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
    })
    page = await browser.newPage({ viewport: { width: 1280, height: 720 } })
    page.on('pageerror', (error) => complaints.push(error.message))
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text())
    })
    await page.goto(started.url)
  }, 60_000)

  afterAll(async () => {
    await browser?.close()
    child?.kill('SIGINT')
  })

  const place = (name: string) => page.locator('.chain-link').filter({ has: page.locator('.name', { hasText: name }) })
  const main = () => page.locator('main.place')

  it('goes from who is at the machine to a checked reading and its handover sheet', async () => {
    await page.getByText('Practice', { exact: true }).first().waitFor()
    const name = page.getByLabel('Who is at the machine?')
    await name.fill('R. Muster')
    await name.press('Enter')
    await page.getByText(/visit .* R. Muster/).waitFor()

    await page.locator('.points .cell').first().click()
    await place('Scaling').click()
    await page.getByRole('button', { name: 'Take the measured zero' }).click()
    await page.getByRole('button', { name: 'Measure the zero again' }).waitFor()
    await page.getByRole('button', { name: /Put into intended values/ }).click()

    await page.getByRole('button', { name: /Review and write/ }).click()
    const dialog = page.getByRole('dialog')
    await dialog.getByText('1.5452').waitFor()
    await dialog.getByText(/^No check as found of WT-101 in this visit yet/).waitFor()
    await dialog.getByRole('button', { name: /^Write \d+ setting/ }).click()
    await dialog.getByText(/written, read back equal, saved/).waitFor({ timeout: 20_000 })
    await dialog.getByRole('button', { name: 'Close' }).last().click()
    await page.getByText('the indicator holds what is intended').waitFor()

    await place('Check').click()
    await page.getByRole('button', { name: 'As left' }).click()
    await page.getByRole('button', { name: 'Start the check' }).click()
    for (const step of ['Step 1 of 3', 'Step 2 of 3', 'Step 3 of 3']) {
      await main().getByText(step).waitFor()
      await main().getByRole('button', { name: 'Put it on' }).click()
      // Enabled by the page itself once most of the step has arrived and the reading is steady.
      await main()
        .getByRole('button', { name: /^Take the reading/ })
        .click({ timeout: 20_000 })
    }
    await page.getByRole('button', { name: 'Finish the check' }).click()
    await main().locator('.verdict', { hasText: 'within' }).waitFor()

    await page.getByRole('button', { name: 'Open the handover sheet' }).click()
    const sheet = page.frameLocator('iframe')
    await sheet.getByText('Practice: simulated indicator').waitFor()
    await sheet.getByText('As left: within tolerance').waitFor()
    await page.keyboard.press('Escape')

    const saved = JSON.parse(readFileSync(join(folder, 'practice.job.json'), 'utf8'))
    expect(saved.visits[0].checks[0].steps.map((s: { load: string }) => s.load)).toEqual(['0', '500', '0'])
  }, 90_000)

  it('shows the same state again after a reload', async () => {
    await page.reload()
    await page.getByText(/visit .* R. Muster/).waitFor()
    await page.getByText('the indicator holds what is intended').waitFor()
  })

  it('stops sending by key and says so, and resumes', async () => {
    await page.keyboard.press('Shift+Escape')
    await page.getByText('Sending is stopped.').waitFor()
    await page.getByRole('button', { name: 'Resume sending' }).click()
    await page.getByText('Sending is stopped.').waitFor({ state: 'detached' })
  })

  it('has given the browser nothing to complain of', () => {
    expect(complaints).toEqual([])
  })
})
