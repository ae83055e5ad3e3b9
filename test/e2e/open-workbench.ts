import type { Browser } from 'playwright-core'
import type { Job } from '../../app/job/schema.ts'
import { serveWeb, type WebShell } from '../../main/web/server.ts'
import { type PracticeHost, startPracticeHost } from '../builders/practice-host.ts'
import { type OpenPage, openPage } from './open-page.ts'

export type OpenWorkbench = OpenPage & {
  practice: PracticeHost
  shell: WebShell
  close(): Promise<void>
}

export const servePage = (practice: PracticeHost): Promise<WebShell> => serveWeb(practice.host, { folder: 'out/renderer', port: 0 })

/** The built page in a browser, on a host of its own with the practice bench; with `visit: false` nobody is at the machine yet. */
export async function openWorkbench(browser: Browser, { visit = true, job }: { visit?: boolean; job?: Job } = {}): Promise<OpenWorkbench> {
  const practice = await startPracticeHost({ start: visit, ...(job ? { job } : {}) })
  if (!visit) await practice.host.start()
  const shell = await servePage(practice)
  const opened = await openPage(browser, shell.url)
  const workbench: OpenWorkbench = {
    ...opened,
    practice,
    shell,
    async close() {
      await opened.page.context().close()
      await workbench.shell.close()
      await workbench.practice.close()
    },
  }
  return workbench
}
