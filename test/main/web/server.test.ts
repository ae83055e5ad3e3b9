import { once } from 'node:events'
import { mkdtempSync, writeFileSync } from 'node:fs'
import { request as httpRequest } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { WebSocket } from 'ws'
import { decodeSamples } from '../../../app/contract/sample-batch.ts'
import type { LiveSample } from '../../../app/contract/views.ts'
import type { Host } from '../../../main/host/host.ts'
import { createTopics, type Topics } from '../../../main/host/topics.ts'
import { serveWeb, type WebShell } from '../../../main/web/server.ts'

let shell: WebShell
let newAddresses: string[]
let topics: Topics
let calls: { name: string; request: unknown }[]

const liveSample: LiveSample = {
  pointId: 'wt-101',
  at: 0,
  reading: '12.50',
  gross: null,
  unit: 'kg',
  signal: null,
  signalUnit: 'mV/V',
  signalOrigin: 'none',
  status: [],
}

beforeEach(async () => {
  const top = mkdtempSync(join(tmpdir(), 'spanwright-web-'))
  const folder = join(top, 'page')
  const { mkdirSync } = await import('node:fs')
  mkdirSync(folder)
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>page</title>')
  writeFileSync(join(top, 'secret.txt'), 'secret')
  calls = []
  newAddresses = []
  topics = createTopics('test')
  const host = {
    topics,
    async callUntrusted(name: string, request: unknown) {
      calls.push({ name, request })
      return { ok: true as const, value: { echoed: name } }
    },
  } as unknown as Host
  host.topics.set('practice', undefined, {
    since: '2026-03-12T08:00:00Z',
    loads: { 'wt-101': '<img src=x onerror=alert(1)>' },
    buses: {},
    sensorsOut: [],
    indicators: {},
  })
  shell = await serveWeb(host, { folder, port: 0, onNewAddress: (url) => newAddresses.push(url) })
})

afterEach(() => shell.close())

type Answer = { status: number; headers: Record<string, string | string[] | undefined>; body: string }

function get(path: string, headers: Record<string, string> = {}, method = 'GET'): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const sent = httpRequest(
      { host: '127.0.0.1', port: shell.port, path, method, headers: { host: `127.0.0.1:${shell.port}`, ...headers } },
      (r) => {
        let body = ''
        r.on('data', (d) => {
          body += String(d)
        })
        r.on('end', () => resolve({ status: r.statusCode ?? 0, headers: r.headers, body }))
      },
    )
    sent.on('error', reject)
    sent.end()
  })
}

async function cookie(): Promise<string> {
  const { searchParams } = new URL(newAddresses.at(-1) ?? shell.url)
  const answer = await get(`/?token=${searchParams.get('token')}`)
  expect(answer.status).toBe(303)
  const [set] = answer.headers['set-cookie'] ?? []
  expect(set).toMatch(/HttpOnly; SameSite=Strict; Path=\//)
  return String(set).split(';')[0]!
}

function socket(headers: Record<string, string>): Promise<WebSocket> {
  return new Promise((resolve, reject) => {
    const ws = new WebSocket(`ws://127.0.0.1:${shell.port}/host`, { headers })
    ws.once('open', () => resolve(ws))
    ws.once('error', reject)
  })
}

const own = () => `http://127.0.0.1:${shell.port}`

describe('loopback host', () => {
  it('serves the page to the bearer of the token, once, and offers another address', async () => {
    const first = shell.url
    const known = await cookie()
    expect(await get('/', { cookie: known })).toMatchObject({ status: 200, body: expect.stringContaining('page') })
    expect((await get(new URL(first).search.replace('?', '/?'))).status).toBe(403)
    expect(newAddresses).toHaveLength(1)
    expect(newAddresses[0]).not.toBe(first)
  })

  it('refuses without cookie, with a wrong token and with a wrong cookie', async () => {
    expect((await get('/')).status).toBe(403)
    expect((await get('/?token=guess')).status).toBe(403)
    expect((await get('/', { cookie: 'spanwright-session=guess' })).status).toBe(403)
  })

  it('refuses a Host that is not its own, as a rebound DNS name would send', async () => {
    const known = await cookie()
    expect((await get('/', { cookie: known, host: `evil.example:${shell.port}` })).status).toBe(421)
    await expect(socket({ cookie: known, origin: own(), host: `evil.example:${shell.port}` })).rejects.toThrow('403')
  })

  it('refuses paths outside its folder and other methods', async () => {
    const known = await cookie()
    for (const path of ['/../secret.txt', '/%2e%2e/secret.txt', '/..%2fsecret.txt', '/%2e%2e%5csecret.txt']) {
      const answer = await get(path, { cookie: known })
      expect(answer.body).not.toContain('secret')
    }
    expect((await get('/', { cookie: known }, 'POST')).status).toBe(405)
  })

  it('says in its headers that the page may load nothing from elsewhere', async () => {
    const answer = await get('/', { cookie: await cookie() })
    expect(answer.headers['content-security-policy']).toContain("default-src 'none'")
    expect(answer.headers['content-security-policy']).toContain("script-src 'self'")
    expect(answer.headers['x-content-type-options']).toBe('nosniff')
  })

  it('opens the socket only for its own origin with the cookie', async () => {
    const known = await cookie()
    await expect(socket({ origin: own() })).rejects.toThrow('403')
    await expect(socket({ cookie: known })).rejects.toThrow('403')
    await expect(socket({ cookie: known, origin: 'http://evil.example' })).rejects.toThrow('403')
    const ws = await socket({ cookie: known, origin: own() })
    ws.terminate()
  })

  it('sends what is known first, answers calls, and survives what is no message', async () => {
    const ws = new WebSocket(`ws://127.0.0.1:${shell.port}/host`, { headers: { cookie: await cookie(), origin: own() } })
    const heard: unknown[] = []
    const until = (count: number) =>
      new Promise<void>((resolve) => {
        const look = () => heard.length >= count && resolve()
        ws.on('message', look)
        look()
      })
    ws.on('message', (data) => heard.push(JSON.parse(String(data))))
    await until(2)
    expect(heard[0]).toEqual({ kind: 'afresh', serving: 'test', topics: ['practice'] })
    expect(heard[1]).toMatchObject({ kind: 'topic', topic: 'practice', value: { loads: { 'wt-101': '<img src=x onerror=alert(1)>' } } })

    ws.send('{')
    ws.send(JSON.stringify({ kind: 'call', call: 7, name: 'bus.open', request: { busId: 'bus-1' }, extra: 1 }))
    ws.send(JSON.stringify({ kind: 'call', call: 8, name: 'bus.open', request: { busId: 'bus-1' } }))
    await until(5)
    expect(heard.slice(2)).toEqual([
      { kind: 'rejected', call: 0, why: expect.any(String) },
      { kind: 'rejected', call: 7, why: expect.any(String) },
      { kind: 'reply', call: 8, value: { echoed: 'bus.open' } },
    ])
    expect(calls).toEqual([{ name: 'bus.open', request: { busId: 'bus-1' } }])
    ws.terminate()
  })

  it('sends live samples as binary batches, and no more of them than the page takes', async () => {
    const ws = new WebSocket(`ws://127.0.0.1:${shell.port}/host`, { headers: { cookie: await cookie(), origin: own() } })
    const batches: Uint8Array[] = []
    const until = async (count: number) => {
      while (batches.length < count) await once(ws, 'message')
    }
    ws.on('message', (data: Buffer, isBinary) => isBinary && batches.push(data))
    await once(ws, 'message')
    const live = (at: number) => topics.send({ kind: 'samples', samples: [{ ...liveSample, at }] })
    for (let at = 1; at <= 9; at += 1) live(at)
    await until(4)
    ws.send(JSON.stringify({ kind: 'taken', batch: 4 }))
    await until(5)
    expect(batches.map((b) => decodeSamples(b))).toEqual(
      [[1], [2], [3], [4], [5, 6, 7, 8, 9]].map((ats, i) => ({
        ok: true,
        value: { batch: i + 1, samples: ats.map((at) => ({ pointId: 'wt-101', unit: 'kg', at, reading: 12.5, signal: Number.NaN })) },
      })),
    )
    ws.terminate()
  })

  it('closes the socket on a message larger than any call', async () => {
    const ws = await socket({ cookie: await cookie(), origin: own() })
    const closed = new Promise<number>((resolve) => ws.on('close', (code) => resolve(code)))
    ws.send('x'.repeat(1_100_000))
    expect(await closed).toBe(1009)
  })
})
