import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import type { Host } from '../../main/host/host.ts'
import { openHost } from '../../main/open-host.ts'
import { serveWeb } from '../../main/web/server.ts'
import { type OpenPage, openPage, startBrowser } from './open-page.ts'

export type OpenProgram = OpenPage & {
  browser: Browser
  host: Host
  /** Practice job and list of recent jobs are here, other jobs in `jobs` in it. */
  folder: string
  close(): Promise<void>
}

/** The whole program as `npm start` serves it, in a browser and a folder of its own: the practice job is open, and others can be. */
export async function openProgram(chromium: string): Promise<OpenProgram> {
  const folder = mkdtempSync(join(tmpdir(), 'spanwright-walk-'))
  const jobPath = join(folder, 'practice.job.json')
  const places = { userFolder: folder, jobsFolder: join(folder, 'jobs') }
  const opened = await openHost({ jobPath, shell: 'browser', address: 'browser host', practice: true, ...places })
  if (!opened.ok) throw new Error(opened.failure.why)
  const { host } = opened.value
  const shell = await serveWeb(host, { folder: 'out/renderer', port: 0 })
  const started = host.start()
  const browser = await startBrowser(chromium)
  const page = await openPage(browser, shell.url)
  return {
    ...page,
    browser,
    host,
    folder,
    async close() {
      await browser.close()
      await shell.close()
      await started
      await host.close()
    },
  }
}
