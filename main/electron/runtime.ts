/** The part of Electron that the shell uses, so that everything but `index.ts` and `preload.ts` can be run without it. */
export type Cancellable = { preventDefault(): void }

export type Frame = { readonly url: string }

export type Contents = {
  readonly mainFrame: Frame
  send(name: string, message: unknown): void
  isDestroyed(): boolean
  setWindowOpenHandler(handler: () => { action: 'deny' }): void
  on(event: 'will-navigate' | 'will-redirect' | 'will-attach-webview', listener: (event: Cancellable) => void): unknown
  on(event: 'destroyed' | 'render-process-gone', listener: () => void): unknown
}

export type SenderEvent<C> = { readonly sender: C; readonly senderFrame: Frame | null }

export type Ipc<C> = { on(name: string, listener: (event: SenderEvent<C>, message: unknown) => void): unknown }

export type WindowOptions = {
  width: number
  height: number
  minWidth: number
  minHeight: number
  show: boolean
  title: string
  webPreferences: {
    preload: string
    contextIsolation: true
    sandbox: true
    nodeIntegration: false
    nodeIntegrationInWorker: false
    nodeIntegrationInSubFrames: false
    webSecurity: true
    webviewTag: false
    navigateOnDragDrop: false
    spellcheck: false
  }
}

export type PageWindow<C> = {
  readonly webContents: C
  loadURL(url: string): Promise<void>
  show(): void
  focus(): void
  restore(): void
  isMinimized(): boolean
  once(event: 'ready-to-show', listener: () => void): unknown
}

export type MenuEntry = { role: 'appMenu' | 'fileMenu' | 'editMenu' | 'viewMenu' | 'windowMenu' }

export type SchemeOptions = { scheme: string; privileges: { standard: boolean; secure: boolean; supportFetchAPI: boolean } }

export type Runtime<C extends Contents> = {
  app: {
    requestSingleInstanceLock(): boolean
    enableSandbox(): void
    quit(): void
    exit(code?: number): void
    whenReady(): Promise<void>
    on(event: 'second-instance' | 'window-all-closed', listener: () => void): unknown
    on(event: 'will-quit', listener: (event: Cancellable) => void): unknown
    on(event: 'web-contents-created', listener: (event: unknown, contents: C) => void): unknown
  }
  protocol: {
    registerSchemesAsPrivileged(schemes: SchemeOptions[]): void
    handle(scheme: string, handler: (request: Request) => Promise<Response>): void
  }
  session: {
    setPermissionRequestHandler(handler: (contents: unknown, permission: string, answer: (granted: boolean) => void) => void): void
    setPermissionCheckHandler(handler: () => boolean): void
    setDevicePermissionHandler(handler: () => boolean): void
  }
  ipcMain: Ipc<C>
  powerSaveBlocker: { start(type: 'prevent-app-suspension'): number; stop(id: number): unknown }
  setMenu(entries: MenuEntry[]): void
  openWindow(options: WindowOptions): PageWindow<C>
  /** Shows one problem to the user and returns once it has been read. */
  showProblem(text: string): void
  platform: string
}
