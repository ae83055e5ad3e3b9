import type { Page } from 'playwright-core'

/** What has the focus, as a screen reader would name it. */
export const focused = (page: Page) =>
  page.evaluate(() => {
    const now = document.activeElement
    if (!(now instanceof HTMLElement) || now === document.body) return ''
    const label = 'labels' in now && now.labels instanceof NodeList ? now.labels[0]?.textContent : null
    const called = now
      .getAttribute('aria-labelledby')
      ?.split(' ')
      .map((id) => document.getElementById(id)?.textContent?.trim())
      .join(' ')
    return (called ?? now.getAttribute('aria-label') ?? label ?? now.textContent ?? '').trim()
  })

/** Goes on by the tab key until something of this name has the focus; what cannot be reached by it fails. */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
  const passed: string[] = []
  for (let presses = 0; presses < 200; presses += 1) {
    const now = await focused(page)
    if (name.test(now)) return
    passed.push(now)
    await page.keyboard.press('Tab')
  }
  throw new Error(`${name} was not reached by the tab key; it came by ${[...new Set(passed)].join(' | ')}`)
}

export async function pressOn(page: Page, name: RegExp, key = 'Enter'): Promise<void> {
  await tabTo(page, name)
  await page.keyboard.press(key)
}

/** The name of what has the focus where it can be seen to have it: drawn with an outline. Empty where it cannot. */
export const focusSeen = async (page: Page): Promise<string> => {
  const seen = await page.evaluate(() => {
    const now = document.activeElement
    if (!(now instanceof HTMLElement) || now === document.body) return false
    const box = now.getBoundingClientRect()
    const { outlineStyle, outlineWidth } = getComputedStyle(now)
    return outlineStyle !== 'none' && outlineWidth !== '0px' && box.width > 0 && box.height > 0
  })
  return seen ? focused(page) : ''
}

/** Presses a key so often that no frame is drawn between: faster than anything that waits for the next one. */
export const pressAtOnce = (page: Page, key: string, times: number) =>
  page.evaluate(
    async ([name, count]) => {
      for (let press = 0; press < count; press += 1) {
        const at = document.activeElement ?? document.body
        at.dispatchEvent(new KeyboardEvent('keydown', { key: name, bubbles: true, cancelable: true }))
        // As after a real key: what waits for the end of the event is done before the next one.
        await Promise.resolve()
      }
    },
    [key, times] as const,
  )
