import type { Page } from 'playwright-core'

/** As a file manager hands a file over when it is let go above the window. */
export async function dropFile(page: Page, name: string, content: Buffer | string): Promise<void> {
  const bytes = Buffer.from(content).toString('base64')
  const transfer = await page.evaluateHandle(
    ([called, base64]) => {
      const data = new DataTransfer()
      data.items.add(new File([Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))], called))
      return data
    },
    [name, bytes] as const,
  )
  await page.dispatchEvent('body', 'dragover', { dataTransfer: transfer })
  await page
    .getByText(/^Drop a bundle/)
    .first()
    .waitFor()
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer })
}
