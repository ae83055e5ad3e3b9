import { beforeEach, expect, it, vi } from 'vitest'

type Bridge = { send(message: unknown): void; onMessage(listener: (message: unknown) => void): void }

const electron = vi.hoisted(() => ({
  exposed: [] as { name: string; api: Bridge }[],
  sent: [] as unknown[][],
  listeners: new Map<string, (event: unknown, message: unknown) => void>(),
}))

vi.mock('electron', () => ({
  contextBridge: { exposeInMainWorld: (name: string, api: Bridge) => electron.exposed.push({ name, api }) },
  ipcRenderer: {
    send: (...args: unknown[]) => electron.sent.push(args),
    on: (name: string, listener: (event: unknown, message: unknown) => void) => electron.listeners.set(name, listener),
  },
}))

beforeEach(async () => {
  electron.exposed.length = 0
  electron.sent.length = 0
  electron.listeners.clear()
  vi.resetModules()
  await import('../../../main/electron/preload.ts')
})

const fromHost = (message: unknown) => electron.listeners.get('spanwright:to-page')?.({ sender: 'the real event' }, message)

it('gives the page one object with two functions and nothing else', () => {
  expect(electron.exposed.map((e) => [e.name, Object.keys(e.api).sort()])).toEqual([['spanwright', ['onMessage', 'send']]])
})

it('says once that a page has loaded, and passes calls on', () => {
  electron.exposed[0]?.api.send({ kind: 'call', call: 1 })
  expect(electron.sent).toEqual([['spanwright:ready'], ['spanwright:to-host', { kind: 'call', call: 1 }]])
})

it('passes messages on without the event, which holds the sender', () => {
  const heard: unknown[][] = []
  electron.exposed[0]?.api.onMessage((...args) => heard.push(args))
  fromHost({ kind: 'samples', samples: [] })
  expect(heard).toEqual([[{ kind: 'samples', samples: [] }]])
})

it('keeps what came before the page listened, in order, and gives it once', () => {
  fromHost('first')
  fromHost('second')
  const heard: unknown[] = []
  electron.exposed[0]?.api.onMessage((message) => heard.push(message))
  fromHost('third')
  const heardLater: unknown[] = []
  electron.exposed[0]?.api.onMessage((message) => heardLater.push(message))
  expect([heard, heardLater]).toEqual([['first', 'second', 'third'], []])
})
