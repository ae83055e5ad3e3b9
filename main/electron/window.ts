import { pageUrl } from './page-protocol.ts'
import type { Contents, MenuEntry, PageWindow, Runtime, WindowOptions } from './runtime.ts'

export const windowOptions = (preload: string): WindowOptions => ({
  width: 1440,
  height: 900,
  minWidth: 1024,
  minHeight: 640,
  show: false,
  title: 'Spanwright',
  webPreferences: {
    preload,
    contextIsolation: true,
    sandbox: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webSecurity: true,
    webviewTag: false,
    navigateOnDragDrop: false,
    spellcheck: false,
  },
})

/** Nothing leads away from the page: no navigation, no second window, no embedded view. */
export function confine(contents: Contents): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }))
  contents.on('will-navigate', (event) => event.preventDefault())
  contents.on('will-redirect', (event) => event.preventDefault())
  contents.on('will-attach-webview', (event) => event.preventDefault())
}

/** Ports are the host's business; the page is granted no camera, location, serial port or anything else. */
export function refusePermissions<C extends Contents>(session: Runtime<C>['session']): void {
  session.setPermissionRequestHandler((_contents, _permission, answer) => answer(false))
  session.setPermissionCheckHandler(() => false)
  session.setDevicePermissionHandler(() => false)
}

export const menuFor = (platform: string): MenuEntry[] => [
  ...(platform === 'darwin' ? [{ role: 'appMenu' } as const] : []),
  { role: 'fileMenu' },
  { role: 'editMenu' },
  { role: 'viewMenu' },
  { role: 'windowMenu' },
]

/** Opens the window with its page still to be loaded, so that listeners are in place before the page speaks. */
export function openPageWindow<C extends Contents>(runtime: Pick<Runtime<C>, 'openWindow'>, preload: string): PageWindow<C> {
  const window = runtime.openWindow(windowOptions(preload))
  window.once('ready-to-show', () => window.show())
  return window
}

export const loadPage = (window: PageWindow<Contents>): Promise<void> => window.loadURL(pageUrl)

export function bringToFront(window: PageWindow<Contents>): void {
  if (window.isMinimized()) window.restore()
  window.show()
  window.focus()
}
