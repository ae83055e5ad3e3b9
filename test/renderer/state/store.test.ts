import { describe, expect, it, vi } from 'vitest'
import type { HostClient, HostReach } from '../../../app/contract/contract.ts'
import type { LiveSample } from '../../../app/contract/views.ts'
import { Store } from '../../../renderer/state/store.ts'

const sample = (at: number, reading: string | null): LiveSample => ({
  pointId: 'wt-101',
  at,
  reading,
  gross: reading,
  unit: 'kg',
  signal: '0.5',
  signalUnit: 'mV/V',
  signalOrigin: 'measured',
  status: [],
})
const onCurve = (at: number, reading: number) => ({ pointId: 'wt-101', unit: 'kg', at, reading, signal: 0.5 })
const fresh = (at: number, reading: string) => ({ state: 'fresh', sample: sample(at, reading), steady: true, noiseSignal: null })
const session = {
  shell: 'browser',
  stopped: false,
  by: '',
  visitId: null,
  jobPath: 'a.job.json',
  practice: false,
  savedAt: null,
  logged: 0,
  undo: null,
  redo: null,
  anchor: '2026-11-25T12:00:00Z',
}

/** A store whose delayed work runs when the test says so. */
function startStore() {
  const due: (() => void)[] = []
  const clock = { now: 0 }
  const store = new Store(
    (run) => due.push(run),
    () => clock.now,
  )
  const told = vi.fn()
  store.subscribe(told)
  return {
    store,
    clock,
    told,
    runDue: () => {
      for (const run of due.splice(0)) run()
    },
    due,
  }
}

function fakeClient() {
  const watchers: ((reach: HostReach) => void)[] = []
  const client: HostClient = {
    call: () => Promise.reject(new Error('not called here')),
    listen: () => () => {},
    onReach: (l) => {
      watchers.push(l)
      return () => {}
    },
  }
  return {
    client,
    reach: (reach: HostReach) => {
      for (const watcher of watchers) watcher(reach)
    },
  }
}

describe('Store', () => {
  it('shows a topic at once, the same object until it changes', () => {
    const { store, told } = startStore()

    store.put('session', undefined, session)

    expect(store.topic('session')).toEqual(session)
    expect(store.topic('session')).toBe(store.topic('session'))
    expect(told).toHaveBeenCalledTimes(1)
  })

  it('changes live values in place only when they are due, however many come', () => {
    const { store, told, runDue, due } = startStore()

    for (let i = 0; i < 10; i += 1) store.put('live', 'wt-101', fresh(i, `${i}.0`))

    expect(due).toHaveLength(1)
    expect(store.topic('live', 'wt-101')).toBeUndefined()
    expect(told).not.toHaveBeenCalled()
    runDue()
    expect(store.topic('live', 'wt-101')).toMatchObject({ sample: { reading: '9.0' } })
    expect(told).toHaveBeenCalledTimes(1)
  })

  it('keeps topics of different keys apart', () => {
    const { store } = startStore()
    const bus = { state: 'open', answering: 1, silent: 0 }

    store.put('bus', 'bus-1', bus)
    store.put('bus', 'bus-2', { ...bus, silent: 2 })

    expect(store.topic('bus', 'bus-1')?.silent).toBe(0)
    expect(store.topic('bus', 'bus-2')?.silent).toBe(2)
  })

  it('refuses what does not fit the contract and says so, keeping the last good value', () => {
    const { store } = startStore()
    store.put('session', undefined, session)

    store.put('session', undefined, { ...session, stopped: 'perhaps' })

    expect(store.topic('session')?.stopped).toBe(false)
    expect(store.unreadable).toMatch(/"session".*stopped/)
  })

  it('puts samples into the ring of their point, with no number as NaN', () => {
    const { store } = startStore()

    store.take([onCurve(0, 1.5), onCurve(50, Number.NaN)])

    expect(
      store
        .ring('wt-101')
        .between(0, 1e9, 'reading')
        .flatMap((p) => [...p.value]),
    ).toEqual([1.5, Number.NaN])
  })

  it('keeps once what is told again after a lost connection, and what it missed meanwhile', () => {
    const { store } = startStore()

    store.take([onCurve(10, 1), onCurve(60, 2)])
    store.take([onCurve(10, 1), onCurve(60, 2), onCurve(110, 3)])

    expect(
      store
        .ring('wt-101')
        .between(0, 1e9, 'reading')
        .flatMap((p) => [...p.value]),
    ).toEqual([1, 2, 3])
  })

  it('told afresh by the same serving keeps what is still there, and samples; by another one it forgets all', () => {
    const { store } = startStore()
    store.begin('one', ['session', 'bus/bus-1'])
    const bus = { state: 'open', answering: 1, silent: 0 }
    store.put('session', undefined, session)
    store.put('bus', 'bus-1', bus)
    store.put('bus', 'bus-2', bus)
    store.take([onCurve(0, 1.5)])

    store.begin('one', ['session', 'bus/bus-1'])
    expect([store.topic('bus', 'bus-1')?.state, store.topic('bus', 'bus-2')]).toEqual(['open', undefined])
    expect(store.ring('wt-101').length).toBe(1)

    store.begin('two', ['session', 'bus/bus-1'])
    expect([store.topic('session'), store.topic('bus', 'bus-1')]).toEqual([undefined, undefined])
    expect(store.ring('wt-101').length).toBe(0)
  })

  it('tells a lost connection from one not made yet', () => {
    const { store } = startStore()
    const { client, reach } = fakeClient()
    store.follow(client)

    expect(store.connection).toBe('connecting')
    reach('connected')
    expect(store.connection).toBe('connected')
    reach('lost')
    expect(store.connection).toBe('lost')
  })

  it('lets live values grow old while the host is silent or lost, and shows them fresh once it tells them again', () => {
    const { store, clock, runDue } = startStore()
    const { client, reach } = fakeClient()
    store.follow(client)
    reach('connected')
    store.put('live', 'wt-101', fresh(1, '500.0'))
    runDue()
    expect(store.topic('live', 'wt-101')).toMatchObject({ state: 'fresh', steady: true })

    clock.now = 4_000
    reach('silent')
    const says = (why: string) => ({ state: 'stale', missed: Number.POSITIVE_INFINITY, because: { kind: 'link-down', why } })
    expect(store.topic('live', 'wt-101')).toMatchObject({ ...says('the host is silent'), ageMs: 4_000 })
    clock.now = 10_000
    reach('lost')
    clock.now = 13_000
    runDue()
    expect(store.topic('live', 'wt-101')).toMatchObject({ ...says('the connection to the host is lost'), ageMs: 13_000 })

    reach('connected')
    store.put('live', 'wt-101', fresh(2, '500.2'))
    runDue()
    runDue()
    expect(store.topic('live', 'wt-101')).toMatchObject({ state: 'fresh', sample: { reading: '500.2' } })
  })
})
