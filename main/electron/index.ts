import { homedir } from 'node:os'
import { join } from 'node:path'
import { app, BrowserWindow, dialog, ipcMain, Menu, powerSaveBlocker, protocol, session, type WebContents } from 'electron'
import { fail, ok } from '../../app/result.ts'
import { openHost } from '../open-host.ts'
import { serveRenderer } from '../serve.ts'
import { jobArgument } from './job-argument.ts'
import { watchRunning } from './running.ts'
import type { Runtime } from './runtime.ts'
import { startShell } from './shell.ts'

const runtime: Runtime<WebContents> = {
  app,
  protocol,
  ipcMain,
  powerSaveBlocker,
  platform: process.platform,
  // There is no session before the runtime is ready.
  get session() {
    return session.defaultSession
  },
  setMenu: (entries) => Menu.setApplicationMenu(Menu.buildFromTemplate(entries)),
  openWindow: (options) => new BrowserWindow(options),
  showProblem: (text) => dialog.showErrorBox('Spanwright', text),
}

// As built, this file is out/main/index.js.
const paths = { page: join(import.meta.dirname, '..', 'renderer'), preload: join(import.meta.dirname, '..', 'preload', 'preload.cjs') }

startShell(runtime, paths, async () => {
  const job = jobArgument(process.argv.slice(app.isPackaged ? 1 : 2), homedir())
  const opened = await openHost({ ...job, shell: 'window', address: 'window', userFolder: join(homedir(), '.spanwright') })
  if (!opened.ok) return fail(`${opened.failure.where}: ${opened.failure.why}`)
  const { host } = opened.value
  return ok({
    serve: (channel) => serveRenderer(host, channel),
    onRunning: (listener) => void watchRunning(host.topics, listener),
    start: () => host.start(),
    close: () => host.close(),
  })
}).catch((problem: unknown) => {
  console.error(problem)
  app.exit(1)
})
