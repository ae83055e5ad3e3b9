import { type Browser, chromium, type Page } from 'playwright-core'

export const startBrowser = (executablePath: string): Promise<Browser> =>
  chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'] })

export type OpenPage = {
  page: Page
  /** Everything that the browser complained of: errors, refused policies, failed requests. */
  complaints: string[]
}

export async function openPage(browser: Browser, url: string): Promise<OpenPage> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } })
  const page = await context.newPage()
  const complaints: string[] = []
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text())
  })
  page.on('pageerror', (error) => complaints.push(error.message))
  page.on('requestfailed', (request) => complaints.push(`${request.url()}: ${request.failure()?.errorText}`))
  page.on('response', (response) => {
    if (response.status() >= 400) complaints.push(`${response.url()}: ${response.status()}`)
  })
  await page.goto(url)
  await page.getByRole('table').waitFor()
  return { page, complaints }
}

/** The place of this name in the chain of the open point. */
export const place = (page: Page, name: string) =>
  page.getByRole('navigation', { name: /^Chain/ }).getByRole('button', { name: new RegExp(`^${name}`) })

/** A cell of the table of all points, called by its row, its column and what it shows. */
export const cell = (page: Page, name: string, tag = 'WT-101') => page.getByRole('button', { name: new RegExp(`^${tag} ${name} `) })
