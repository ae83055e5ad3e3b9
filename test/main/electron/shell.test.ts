import { describe, expect, it, vi } from 'vitest'
import { fail, ok } from '../../../app/result.ts'
import type { Channel } from '../../../main/channel.ts'
import { type ShellHost, startShell } from '../../../main/electron/shell.ts'
import { cancellable, FakeContents, fakeRuntime } from './fake-runtime.ts'

const paths = { page: '/built/renderer', preload: '/built/preload/preload.cjs' }

function fakeHost() {
  const channels: Channel[] = []
  const host = {
    serve: (channel: Channel) => void channels.push(channel),
    running: undefined as ((running: boolean) => void) | undefined,
    onRunning: (listener: (running: boolean) => void) => {
      host.running = listener
    },
    start: vi.fn(async () => {}),
    close: vi.fn(async () => {}),
  }
  return { host: host satisfies ShellHost, channels }
}

async function start(options: Parameters<typeof fakeRuntime>[0] = {}) {
  const { runtime, seen } = fakeRuntime(options)
  const { host, channels } = fakeHost()
  const openHost = vi.fn(async () => ok<ShellHost>(host))
  await startShell(runtime, paths, openHost)
  return { seen, host, channels, openHost }
}

describe('the window', () => {
  it('is isolated, sandboxed and without Node, with the preload as its only bridge', async () => {
    const { seen } = await start()
    expect(seen.windowOptions?.webPreferences).toMatchObject({
      preload: paths.preload,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      webviewTag: false,
    })
    expect(seen.log).toContain('sandbox')
  })

  it('loads the page under its own scheme, registered before the runtime is ready', async () => {
    const { seen } = await start()
    expect(seen.url).toBe('spanwright://page/index.html')
    expect(seen.schemes).toEqual([{ scheme: 'spanwright', privileges: { standard: true, secure: true, supportFetchAPI: true } }])
    expect(seen.log.indexOf('schemes')).toBeLessThan(seen.log.indexOf('ready'))
    expect(seen.serve).toBeDefined()
  })

  it.each(['will-navigate', 'will-redirect', 'will-attach-webview'])('refuses %s', async (name) => {
    const { seen } = await start()
    const event = cancellable()
    seen.contents.events.emit(name, event)
    expect(event.refused).toBe(true)
  })

  it('opens no second window', async () => {
    const { seen } = await start()
    expect(seen.contents.windowOpenHandler?.()).toEqual({ action: 'deny' })
  })

  it('grants no permission, asked or checked, and no device', async () => {
    const { seen } = await start()
    const answer = vi.fn()
    seen.requestPermission?.({}, 'serial', answer)
    expect(answer.mock.calls).toEqual([[false]])
    expect(seen.checkPermission?.()).toBe(false)
    expect(seen.checkDevice?.()).toBe(false)
  })

  it('is shown once it has something to show', async () => {
    const { seen } = await start()
    expect(seen.log).not.toContain('show')
    seen.windowEvents.emit('ready-to-show')
    expect(seen.log).toContain('show')
  })

  it.each([
    ['linux', ['fileMenu', 'editMenu', 'viewMenu', 'windowMenu']],
    ['darwin', ['appMenu', 'fileMenu', 'editMenu', 'viewMenu', 'windowMenu']],
  ])('has the standard menu of %s', async (platform, roles) => {
    const { seen } = await start({ platform })
    expect(seen.menu.map((entry) => entry.role)).toEqual(roles)
  })
})

describe('one instance', () => {
  it('a second one opens no host and ends', async () => {
    const { seen, openHost } = await start({ firstInstance: false })
    expect(openHost).not.toHaveBeenCalled()
    expect(seen.log).toEqual(['quit'])
  })

  it('the first one comes to the front when a second is started', async () => {
    const { seen } = await start()
    seen.minimized = true
    seen.appEvents.emit('second-instance')
    expect(seen.log.slice(-3)).toEqual(['restore', 'show', 'focus'])
  })
})

describe('the host', () => {
  it('starts after the page was loaded', async () => {
    const { host, seen } = await start()
    expect(host.start).toHaveBeenCalledOnce()
    expect(seen.log).toContain('load')
  })

  it('that cannot open is explained, and the program ends', async () => {
    const { runtime, seen } = fakeRuntime()
    await startShell(runtime, paths, async () => fail('site.job.json: another host has it open'))
    expect(seen.problems).toEqual(['site.job.json: another host has it open'])
    expect(seen.log.at(-1)).toBe('exit 1')
    expect(seen.windowOptions).toBeUndefined()
  })

  it('closes before the program ends, once', async () => {
    const { seen, host } = await start()
    const first = cancellable()
    seen.appEvents.emit('will-quit', first)
    seen.appEvents.emit('will-quit', cancellable())
    expect(first.refused).toBe(true)
    expect(host.close).toHaveBeenCalledOnce()
    await vi.waitFor(() => expect(seen.log.at(-1)).toBe('exit 0'))
  })

  it('keeps the computer awake while something runs', async () => {
    const { seen, host } = await start()
    for (const running of [true, true, false, false]) host.running?.(running)
    expect(seen.log.filter((line) => line === 'awake' || line === 'may sleep')).toEqual(['awake', 'may sleep'])
  })
})

describe('messages', () => {
  it('pass both ways between the page and the host', async () => {
    const { seen, channels } = await start()
    seen.receive('spanwright:ready')
    const heard: unknown[] = []
    channels[0]?.onMessage((message) => heard.push(message))
    seen.receive('spanwright:to-host', { kind: 'call', call: 7, name: 'live.start', request: { pointIds: [] } })
    channels[0]?.send({ kind: 'reply', call: 7, value: 'done' })
    expect(heard).toEqual([{ kind: 'call', call: 7, name: 'live.start', request: { pointIds: [] } }])
    expect(seen.contents.sent).toEqual([{ name: 'spanwright:to-page', message: { kind: 'reply', call: 7, value: 'done' } }])
  })

  it.each([
    ['another window', () => ({ sender: new FakeContents() })],
    ['a frame inside the page', () => ({ senderFrame: { url: 'spanwright://page/index.html' } })],
    ['no frame at all', () => ({ senderFrame: null })],
  ])('from %s are dropped', async (_name, from) => {
    const { seen, channels } = await start()
    seen.receive('spanwright:ready', undefined, from())
    expect(channels).toEqual([])
    seen.receive('spanwright:ready')
    const heard: unknown[] = []
    channels[0]?.onMessage((message) => heard.push(message))
    seen.receive('spanwright:to-host', 'forged', from())
    expect(heard).toEqual([])
  })

  it.each(['https://example.org/', 'spanwright://page.example.org/', 'file:///index.html'])(
    'from the window after it shows %s are dropped',
    async (url) => {
      const { seen, channels } = await start()
      seen.contents.mainFrame = { url }
      seen.receive('spanwright:ready')
      expect(channels).toEqual([])
    },
  )

  it.each(['render-process-gone', 'destroyed'])('end with the page: %s', async (name) => {
    const { seen, channels } = await start()
    seen.receive('spanwright:ready')
    const closed = vi.fn()
    channels[0]?.onClose(closed)
    seen.contents.events.emit(name)
    channels[0]?.send({ kind: 'reply', call: 1, value: null })
    expect(closed).toHaveBeenCalledOnce()
    expect(seen.contents.sent).toEqual([])
  })

  it('begin anew when the page is loaded again; the old channel is closed and silent', async () => {
    const { seen, channels } = await start()
    seen.receive('spanwright:ready')
    const closed = vi.fn()
    channels[0]?.onClose(closed)
    seen.receive('spanwright:ready')
    channels[0]?.send({ kind: 'reply', call: 1, value: 'old' })
    channels[1]?.send({ kind: 'reply', call: 1, value: 'new' })
    expect(closed).toHaveBeenCalledOnce()
    expect(seen.contents.sent.map((s) => s.message)).toEqual([{ kind: 'reply', call: 1, value: 'new' }])
  })

  it('to a destroyed window are dropped and do not throw', async () => {
    const { seen, channels } = await start()
    seen.receive('spanwright:ready')
    seen.contents.destroyed = true
    expect(() => channels[0]?.send({ kind: 'reply', call: 1, value: null })).not.toThrow()
  })
})
