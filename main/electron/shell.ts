import type { Result } from '../../app/result.ts'
import type { Channel } from '../channel.ts'
import { carryMessages } from './page-channel.ts'
import { pageScheme, servePage } from './page-protocol.ts'
import type { Contents, PageWindow, Runtime } from './runtime.ts'
import { stayAwake } from './stay-awake.ts'
import { bringToFront, confine, loadPage, menuFor, openPageWindow, refusePermissions } from './window.ts'

/** The host as the shell needs it. */
export type ShellHost = {
  serve(channel: Channel): void
  /** Calls the listener when something begins to run (buses open, a write, a check) and when all has ended. */
  onRunning(listener: (running: boolean) => void): void
  /** Opens the buses; called once the page is there to show it. */
  start(): Promise<void>
  /** Ends what runs, closes ports and files. */
  close(): Promise<void>
}

export type ShellPaths = { page: string; preload: string }

/** Starts the window around the host. A second instance opens no host: it brings the first one to the front and ends. */
export async function startShell<C extends Contents>(
  runtime: Runtime<C>,
  paths: ShellPaths,
  openHost: () => Promise<Result<ShellHost, string>>,
): Promise<void> {
  const { app, protocol } = runtime
  if (!app.requestSingleInstanceLock()) {
    app.quit()
    return
  }
  let window: PageWindow<C> | undefined
  app.on('second-instance', () => {
    if (window) bringToFront(window)
  })
  // Both must come before the runtime is ready.
  protocol.registerSchemesAsPrivileged([pageScheme])
  app.enableSandbox()
  app.on('web-contents-created', (_event, contents) => confine(contents))
  app.on('window-all-closed', () => app.quit())

  await app.whenReady()
  const opened = await openHost()
  if (!opened.ok) {
    runtime.showProblem(opened.failure)
    app.exit(1)
    return
  }
  const host = opened.value
  closeBeforeQuitting(app, host)
  host.onRunning(stayAwake(runtime.powerSaveBlocker))

  protocol.handle(pageScheme.scheme, servePage(paths.page))
  refusePermissions(runtime.session)
  runtime.setMenu(menuFor(runtime.platform))
  window = openPageWindow(runtime, paths.preload)
  carryMessages(runtime.ipcMain, window.webContents, host.serve)
  await loadPage(window)
  await host.start()
}

/** Holds the end of the program back until the host has let go of its ports and files. */
function closeBeforeQuitting(app: Runtime<Contents>['app'], host: ShellHost): void {
  let closing = false
  app.on('will-quit', (event) => {
    event.preventDefault()
    if (closing) return
    closing = true
    host.close().then(
      () => app.exit(0),
      (problem: unknown) => {
        console.error('The host did not close cleanly:', problem)
        app.exit(1)
      },
    )
  })
}
