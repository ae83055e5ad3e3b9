import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { AxeResults, RunOptions } from 'axe-core'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { describePeers } from '../peers/peer.ts'
import { type Screen, type Stage, screens, startAnew } from '../screens/screens.ts'
import { openStage } from '../screens/theatre.ts'
import { startBrowser } from './open-page.ts'

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

/** Frames are sandboxed without scripts; what is in them, a sheet to be printed, is looked at as a page of its own. */
const everyRule: RunOptions = { resultTypes: ['violations'], iframes: false }
/** Light and dark differ in colours alone; these are the rules of WCAG A and AA that look at them. */
const ofColour: RunOptions = { ...everyRule, runOnly: { type: 'rule', values: ['color-contrast', 'link-in-text-block'] } }

/** What axe finds on the page as it stands that is serious or critical, a line for each rule and part. */
async function findings(page: Page, options: RunOptions): Promise<string[]> {
  // Evaluated and not put in as a script: the page's own policy stays as it is. Each reload takes it away again.
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axeSource)
  const { violations } = await page.evaluate(async (given) => {
    const { axe } = window as unknown as { axe: { run(on: Document, options: RunOptions): Promise<AxeResults> } }
    return axe.run(document, given)
  }, options)
  return violations
    .filter((v) => v.impact === 'serious' || v.impact === 'critical')
    .flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(' ')}: ${n.any.map((c) => c.message).join('; ')}`))
}

async function inBothThemes(page: Page): Promise<{ light: string[]; dark: string[] }> {
  await page.emulateMedia({ colorScheme: 'light' })
  const light = await findings(page, everyRule)
  await page.emulateMedia({ colorScheme: 'dark' })
  return { light, dark: await findings(page, ofColour) }
}

const nothing = { light: [], dark: [] }

describePeers(['chromium'], 'what axe calls serious or critical', ({ chromium }) => {
  let browser: Browser
  let few: { stage: Stage; close(): Promise<void> }

  beforeAll(async () => {
    browser = await startBrowser(chromium)
    few = await openStage(browser, 5)
  })
  afterAll(async () => {
    await few.close()
    await browser.close()
  })

  const open = async (screen: Screen) => {
    if (!screen.byAddress) await startAnew(few.stage.page)
    await screen.open(few.stage)
  }

  // In their order: the later ones build on what the earlier have done.
  it.each(screens.map((s) => [s.name, s] as const))('%s: nothing, light or dark', async (_name, screen) => {
    await open(screen)
    expect(await inBothThemes(few.stage.page)).toEqual(nothing)
  })

  it('table with thirty points: nothing, light or dark', async () => {
    const { stage, close } = await openStage(browser, 30)
    expect(await inBothThemes(stage.page)).toEqual(nothing)
    await close()
  })

  it('the handover sheet itself: nothing', async () => {
    const sheet = screens.find((s) => s.name === 'sheet')
    if (!sheet) throw new Error('There is no such screen.')
    await open(sheet)
    const html = await few.stage.page.locator('iframe').getAttribute('srcdoc')
    const page = await browser.newPage()
    await page.setContent(html ?? '')
    expect(await findings(page, everyRule)).toEqual([])
    await page.close()
  })

  it('is found where there is something: a field without a name, dark letters on a dark ground', async () => {
    const { page } = few.stage
    await startAnew(page)
    await page.evaluate(() => {
      const text = document.createElement('p')
      text.textContent = 'Hard to read'
      text.style.cssText = 'position: fixed; inset: 0 auto auto 0; z-index: 999; color: #333; background: #222'
      document.body.append(document.createElement('input'), text)
    })
    const { light, dark } = await inBothThemes(page)
    expect(light).toEqual([expect.stringMatching(/^color-contrast: .*p: /), expect.stringMatching(/^label: .*input/)])
    expect(dark).toEqual([expect.stringMatching(/^color-contrast: .*p: /)])
  })
})
