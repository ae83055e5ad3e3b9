import { EventEmitter } from 'node:events'
import type {
  Cancellable,
  Contents,
  Frame,
  MenuEntry,
  PageWindow,
  Runtime,
  SchemeOptions,
  SenderEvent,
  WindowOptions,
} from '../../../main/electron/runtime.ts'

/** A window's contents that keep what was sent and let a test raise events. */
export class FakeContents implements Contents {
  mainFrame: Frame = { url: 'spanwright://page/index.html' }
  readonly sent: { name: string; message: unknown }[] = []
  destroyed = false
  windowOpenHandler: (() => { action: 'deny' }) | undefined
  readonly events = new EventEmitter()

  send(name: string, message: unknown): void {
    if (this.destroyed) throw new Error('Object has been destroyed')
    this.sent.push({ name, message })
  }
  isDestroyed = () => this.destroyed
  setWindowOpenHandler(handler: () => { action: 'deny' }): void {
    this.windowOpenHandler = handler
  }
  on(event: string, listener: (event: Cancellable) => void): void {
    this.events.on(event, listener)
  }
}

/** An event that remembers whether it was refused. */
export function cancellable(): Cancellable & { refused: boolean } {
  const event = {
    refused: false,
    preventDefault: () => {
      event.refused = true
    },
  }
  return event
}

/** Stands where Electron would: everything the shell sets is kept, every event can be raised. */
export function fakeRuntime(options: { firstInstance?: boolean; platform?: string } = {}) {
  const log: string[] = []
  const contents = new FakeContents()
  const appEvents = new EventEmitter()
  const windowEvents = new EventEmitter()
  const ipc = new EventEmitter()
  const seen = {
    log,
    contents,
    appEvents,
    windowEvents,
    windowOptions: undefined as WindowOptions | undefined,
    schemes: [] as SchemeOptions[],
    menu: [] as MenuEntry[],
    url: '',
    problems: [] as string[],
    minimized: false,
    requestPermission: undefined as ((contents: unknown, permission: string, answer: (granted: boolean) => void) => void) | undefined,
    checkPermission: undefined as (() => boolean) | undefined,
    checkDevice: undefined as (() => boolean) | undefined,
    serve: undefined as ((request: Request) => Promise<Response>) | undefined,
    /** Raises an IPC message; by default from the window's own page. */
    receive(name: string, message?: unknown, from: Partial<SenderEvent<FakeContents>> = {}) {
      ipc.emit(name, { sender: contents, senderFrame: contents.mainFrame, ...from }, message)
    },
  }
  const window: PageWindow<FakeContents> = {
    webContents: contents,
    loadURL: async (url) => {
      seen.url = url
      log.push('load')
    },
    show: () => void log.push('show'),
    focus: () => void log.push('focus'),
    restore: () => void log.push('restore'),
    isMinimized: () => seen.minimized,
    once: (event, listener) => windowEvents.once(event, listener),
  }
  const runtime: Runtime<FakeContents> = {
    app: {
      requestSingleInstanceLock: () => options.firstInstance ?? true,
      enableSandbox: () => void log.push('sandbox'),
      quit: () => void log.push('quit'),
      exit: (code) => void log.push(`exit ${code}`),
      whenReady: async () => void log.push('ready'),
      on: (event: string, listener: (event: Cancellable & object, contents: FakeContents) => void) => appEvents.on(event, listener),
    },
    protocol: {
      registerSchemesAsPrivileged: (schemes) => {
        seen.schemes = schemes
        log.push('schemes')
      },
      handle: (_scheme, handler) => {
        seen.serve = handler
      },
    },
    session: {
      setPermissionRequestHandler: (handler) => {
        seen.requestPermission = handler
      },
      setPermissionCheckHandler: (handler) => {
        seen.checkPermission = handler
      },
      setDevicePermissionHandler: (handler) => {
        seen.checkDevice = handler
      },
    },
    ipcMain: { on: (name, listener) => ipc.on(name, listener) },
    powerSaveBlocker: { start: () => log.push('awake'), stop: () => log.push('may sleep') },
    setMenu: (entries) => {
      seen.menu = entries
    },
    openWindow: (wanted) => {
      seen.windowOptions = wanted
      appEvents.emit('web-contents-created', {}, contents)
      return window
    },
    showProblem: (text) => void seen.problems.push(text),
    platform: options.platform ?? 'linux',
  }
  return { runtime, seen }
}
