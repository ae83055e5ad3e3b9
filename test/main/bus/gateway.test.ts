import { afterEach, describe, expect, it } from 'vitest'
import { type BusFailure, explainBusFailure } from '../../../app/contract/bus-failure.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { systemClock } from '../../../main/bus/bus-clock.ts'
import { openModbusTcpLink } from '../../../main/bus/modbus-tcp-link.ts'
import { type OpenBus, openBus } from '../../../main/bus/open-bus.ts'
import type { Request } from '../../../main/bus/request.ts'
import { type Bench, type BenchBus, practiceBuses, startBench } from '../../../simulator/index.ts'

const model: Request = { kind: 'read-registers', table: 'holding', address: 0, count: 1 }
const closers: (() => Promise<void>)[] = []
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close()
})

type Limits = { sockets?: number; idleMs?: number }

/** The practice network: with all its units a gateway to 1 and 2, else a single unit with an address of its own. */
async function start(limits: Limits, single = false): Promise<{ bench: Bench; port: number }> {
  const buses = practiceBuses(bundledProfiles, 'rtu-over-tcp')
    .slice(1, 2)
    .map(
      (bus): BenchBus => ({
        ...bus,
        link: { kind: 'modbus-tcp', port: 0, ...limits },
        indicators: bus.indicators.slice(0, single ? 1 : 2).map((i) => (single ? { ...i, unit: 7 } : i)),
      }),
    )
  const bench = await startBench({ buses, seed: 1 })
  closers.push(() => bench.close())
  const address = bench.addressOf('line-2')
  if ('path' in address) throw new Error('expected a socket')
  return { bench, port: address.port }
}

async function open(port: number): Promise<OpenBus & { states: string[] }> {
  const opened = await openBus({ link: { kind: 'modbus-tcp', host: '127.0.0.1', port } })
  if (!opened.ok) throw new Error(JSON.stringify(opened.failure))
  closers.push(() => opened.value.close())
  const states: string[] = []
  opened.value.onChange(() => states.push(opened.value.view().state))
  return { ...opened.value, states }
}

const ask = (bus: OpenBus, unit: number, request: Request = model) => bus.request(unit, request, { priority: 'user', answerMs: 500 })
const answers = (word: number) => ({ ok: true, value: { words: [word] } })

describe('a gateway with one socket', () => {
  it('carries requests to several units over that one, and a second program is told why it gets none', async () => {
    const { bench, port } = await start({ sockets: 1 })
    const bus = await open(port)
    const both = await Promise.all([ask(bus, 1), ask(bus, 2), ask(bus, 1)])
    expect(both).toMatchObject([answers(40404), answers(7105), answers(40404)])
    expect(bench.connections('line-2')).toBe(1)

    const second = await open(port)
    const refused = await ask(second, 1)
    expect(refused).toMatchObject({ ok: false, failure: { kind: 'link-down', why: expect.stringContaining('few sockets may be taken') } })
    expect(await ask(bus, 1)).toMatchObject(answers(40404))
  })

  it('that closes idle connections is asked again without an error, and the bus was never down', async () => {
    const { bench, port } = await start({ sockets: 1, idleMs: 40 })
    const bus = await open(port)
    for (const _ of [1, 2, 3]) {
      expect(await ask(bus, 1)).toMatchObject(answers(40404))
      await expect.poll(() => bench.connections('line-2')).toBe(0)
    }
    expect(bus.view().state).toBe('open')
    expect(bus.states.filter((state) => state !== 'open')).toEqual([])
  })

  it('gets its socket back from us when nobody asks, and a later request opens it again', async () => {
    const { bench, port } = await start({ sockets: 1 })
    const timers = new Set<{ ms: number; then: () => void }>()
    const clock = {
      ...systemClock,
      after(ms: number, then: () => void) {
        const timer = { ms, then }
        timers.add(timer)
        return () => void timers.delete(timer)
      },
    }
    const link = await openModbusTcpLink('127.0.0.1', port, clock)
    if (!link.ok) throw new Error(link.failure)
    closers.push(() => link.value.close())
    expect(await link.value.transact(1, model, 500)).toMatchObject(answers(40404))
    expect(bench.connections('line-2')).toBe(1)
    expect([...timers].map((t) => t.ms)).toEqual([30_000])
    for (const timer of [...timers]) timer.then()
    await expect.poll(() => bench.connections('line-2')).toBe(0)
    expect(link.value.state).toEqual({ kind: 'open' })
    expect(await link.value.transact(2, model, 500)).toMatchObject(answers(7105))
  })

  it('that gives up a rested connection just as we ask: a read is asked once more, a write is not', async () => {
    const { bench, port } = await start({})
    let now = 0
    const link = await openModbusTcpLink('127.0.0.1', port, { ...systemClock, now: () => now })
    if (!link.ok) throw new Error(link.failure)
    closers.push(() => link.value.close())
    expect(await link.value.transact(1, model, 500)).toMatchObject(answers(40404))
    const asked = () => bench.requests('ind-3').count

    for (const { request, end } of [
      { request: model, end: answers(40404) },
      { request: { kind: 'write-register', address: 0, word: 1 } as const, end: { ok: false, failure: { kind: 'link-down' } } },
    ]) {
      now += 2_000
      const before = asked()
      bench.inject('ind-3', { kind: 'hangs-up', times: 1 })
      expect(await link.value.transact(1, request, 500)).toMatchObject(end)
      expect(asked() - before).toBe(request === model ? 2 : 1)
    }
  })
})

describe('what answers', () => {
  it('behind a gateway: its own exception is not taken for the unit', async () => {
    const { bench, port } = await start({})
    const bus = await open(port)
    const failureOf = async (unit: number): Promise<BusFailure> => {
      const outcome = await ask(bus, unit)
      if (outcome.ok) throw new Error('it answered')
      return outcome.failure
    }
    expect(await ask(bus, 2)).toMatchObject(answers(7105))
    // A refusal by the unit itself, one for which the gateway has no path, and one that is switched off.
    bench.inject('ind-3', { kind: 'exception', code: 4, times: 1 })
    const own = await failureOf(1)
    bench.inject('ind-3', { kind: 'exception', code: 10, times: 1 })
    const noPath = await failureOf(1)
    bench.power('ind-3', false)
    const silent = await failureOf(1)
    expect([silent, noPath, own]).toEqual([11, 10, 4].map((code) => ({ kind: 'refused', code })))
    expect([silent, noPath, own].map(explainBusFailure)).toEqual([
      expect.stringMatching(/^The gateway got no answer from this unit/),
      expect.stringMatching(/^The gateway has no path to this unit/),
      expect.stringMatching(/^The indicator refused/),
    ])
    expect(bus.view()).toMatchObject({ answering: 1, silent: 1 })
  })

  it('to units 0 and 255 is the single unit behind the address; to others nobody', async () => {
    const { port } = await start({}, true)
    const bus = await open(port)
    for (const unit of [0, 255, 7]) expect(await ask(bus, unit)).toMatchObject(answers(40404))
    expect(await ask(bus, 8)).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })
  })
})
