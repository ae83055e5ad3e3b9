import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { createJob } from '../../../main/files/job-store.ts'
import type { BenchAddress } from '../../../simulator/index.ts'
import { openPage } from '../../e2e/open-page.ts'
import { startChild } from '../child.ts'
import type { PageHostCommand, PageHostOptions, PageHostReading } from './page-host.ts'
import { type SetupName, setups } from './page-jobs.ts'

export type PageStage = {
  page: Page
  /** Polling rests; the page is told so many samples a point of the past hour. */
  history(samples: number): Promise<void>
  /** The hour is brought up to now; from then on it is what polling brings. */
  live(): Promise<void>
  /** After the host has collected its garbage. */
  read(): Promise<PageHostReading>
  close(): Promise<void>
}

/** Samples a point told at once: of eight points half of what the host holds for a page before it thins. */
const piece = 500

/** The page at work: simulator, host and browser each in a process of its own. */
export async function startPageStage(browser: Browser, setup: SetupName, points: number): Promise<PageStage> {
  const folder = mkdtempSync(join(tmpdir(), 'spanwright-page-'))
  const jobPath = join(folder, 'bench.job.json')
  const made = createJob(jobPath, setups[setup](points).job)
  if (!made.ok) throw new Error(made.failure.why)
  const simulator = await startChild<Record<string, BenchAddress>>('page/page-simulator.ts', { setup, points })
  const options: PageHostOptions = { jobPath, addresses: simulator.first }
  const { child, first } = await startChild<{ url: string }>('page/page-host.ts', options, ['--expose-gc'])
  const ask = (command: PageHostCommand) => child.ask<PageHostReading>(command)
  const { page } = await openPage(browser, first.url)
  return {
    page,
    async history(samples) {
      for (let left = samples; left > 0; left -= piece) {
        await ask({ kind: 'history', samples: Math.min(left, piece) })
        // A page that is behind would be sent fewer.
        await page.evaluate(() => new Promise((shown) => requestAnimationFrame(shown)))
      }
    },
    async live() {
      await ask({ kind: 'live' })
    },
    read: () => ask({ kind: 'read' }),
    async close() {
      await page.context().close()
      await child.end()
      await simulator.child.end()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}
