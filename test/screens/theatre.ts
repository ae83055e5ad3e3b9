import type { Browser, Page } from 'playwright-core'
import { practiceJobOf } from '../../main/practice/practice-bins.ts'
import { serveWeb } from '../../main/web/server.ts'
import { startPracticeHost } from '../builders/practice-host.ts'
import type { Stage } from './screens.ts'

/** A page on a practice bench of so many points, somebody named, loads on, and a few seconds gone by. */
export async function openStage(browser: Browser, points: number): Promise<{ stage: Stage; close(): Promise<void> }> {
  const job = practiceJobOf(points)
  const practice = await startPracticeHost({ job })
  const shell = await serveWeb(practice.host, { folder: 'out/renderer', port: 0 })
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } })
  const page: Page = await context.newPage()
  await page.goto(shell.url)
  await page.getByRole('table').waitFor()
  for (const [i, { id, maximumLoad }] of job.points.entries())
    await practice.host.call('practice.load', { pointId: id, load: String(Math.round(Number(maximumLoad) * (0.2 + ((i * 7) % 10) / 20))) })
  return {
    stage: { page, call: practice.host.call, points: job.points },
    async close() {
      await context.close()
      await shell.close()
      await practice.close()
    },
  }
}
