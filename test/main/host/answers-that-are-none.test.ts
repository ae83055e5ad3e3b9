import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { type BusFailure, explainBusFailure } from '../../../app/contract/bus-failure.ts'
import type { Fault } from '../../../simulator/index.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { topicSeen } from '../../builders/topic-seen.ts'

const indicatorId = 'ind-1'
const pointId = 'wt-101'
let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost()
})
afterAll(() => practice.close())
afterEach(() => practice.bench.clearFaults(indicatorId))

const read = () => practice.host.call('settings.read', { indicatorId })
const held = async () => value(await read()).values
const seen = (state: 'fresh' | 'stale') => topicSeen(practice.host, 'live', pointId, (v) => v.state === state)

/** Longer than the indicator is given for its answer (400 ms by its profile), and well within the silence kept for a late one. */
const lateMs = 500
const always = 1_000

type Kinds = readonly BusFailure['kind'][]
const faults: [what: string, (times: number) => Fault, Kinds, RegExp][] = [
  ['no answer', (times) => ({ kind: 'silent', times }), ['no-reply', 'set-aside'], /Check power, wiring, baud, parity and unit address/],
  ['an answer lost', (times) => ({ kind: 'answer-lost', times }), ['no-reply', 'set-aside'], /Check power, wiring/],
  ['a late answer', (times) => ({ kind: 'late', byMs: lateMs, times }), ['no-reply', 'set-aside', 'garbled', 'foreign'], /Check/],
  [
    'an answer with a wrong CRC',
    (times) => ({ kind: 'wrong-crc', times }),
    ['garbled'],
    /Check baud and parity, termination and screening/,
  ],
  ['a truncated answer', (times) => ({ kind: 'truncated', times }), ['garbled'], /Check baud and parity, termination and screening/],
  [
    'an answer of another unit',
    (times) => ({ kind: 'foreign-unit', times }),
    ['foreign'],
    /second unit with this address or a second master/,
  ],
  [
    'an exception, busy',
    (times) => ({ kind: 'exception', code: 6, times }),
    ['refused'],
    /it is busy; try again shortly \(Modbus exception 6\)/,
  ],
  [
    'an exception that nobody knows',
    (times) => ({ kind: 'exception', code: 77, times }),
    ['refused'],
    /for a reason of its own \(Modbus exception 77\)/,
  ],
]
const harmless: [what: string, (times: number) => Fault][] = [
  ['an answer that comes twice', (times) => ({ kind: 'twice', times })],
  ['the echo of the request before the answer', (times) => ({ kind: 'echo', times })],
  ['stray bytes before the answer', (times) => ({ kind: 'noise', bytes: [0xff, 0x00, 0x55], times })],
]

describe('in place of what was asked for', () => {
  it.each(faults)('%s is told as what it is and never taken for a value; the next sound one is', async (_what, fault, kinds, says) => {
    const truth = await held()
    await seen('fresh')
    practice.bench.inject(indicatorId, fault(always))
    const failed = await read()
    if (failed.ok || failed.failure.kind === 'refused-request') throw new Error(`taken for an answer: ${JSON.stringify(failed)}`)
    expect(kinds).toContain(failed.failure.kind)
    expect(explainBusFailure(failed.failure)).toMatch(says)
    const stale = await seen('stale')
    expect(kinds).toContain(stale.state === 'stale' && stale.because.kind)
    practice.bench.clearFaults(indicatorId)
    expect(await held()).toEqual(truth)
    await seen('fresh')
  })

  it.each(harmless)('%s is passed over', async (_what, fault) => {
    const truth = await held()
    practice.bench.inject(indicatorId, fault(always))
    for (let times = 0; times < 3; times++) expect(await held()).toEqual(truth)
    await seen('fresh')
  })
})

describe('while a write is under way', () => {
  /** Two settings that travel in two requests, to other values than they have; 0.5 as a single float is 3f00 0000, 0.2 is 3e4c cccd (IEEE 754-2019, 3.4). */
  const one = {
    values: { 'filter.time@1': '0.50', 'reading.interval@1': '0.5' },
    words: { 'filter.time@1': [50], 'reading.interval@1': [0x3f00, 0] },
  }
  const other = {
    values: { 'filter.time@1': '0.20', 'reading.interval@1': '0.2' },
    words: { 'filter.time@1': [20], 'reading.interval@1': [0x3e4c, 0xcccd] },
  }
  const wanted = () => (practice.bench.saved(indicatorId)['filter.time@1']?.[0] === 50 ? other : one)

  // Nothing else asks meanwhile, which could meet the fault in its place; closing the bus ends what was asked before.
  beforeAll(async () => {
    value(await practice.host.call('live.start', { pointIds: [] }))
    value(await practice.host.call('bus.close', { busId: 'bus-1' }))
    value(await practice.host.call('bus.open', { busId: 'bus-1' }))
  })

  /** The fault meets the answer to the first request. */
  async function writeThrough(values: Record<string, string>, fault: Fault) {
    const revision = practice.host.topics.get('job')?.revision ?? 0
    value(await practice.host.call('point.intend', { pointId, revision, values }))
    const preview = value(await practice.host.call('settings.preview', { indicatorId }))
    const writing = topicSeen(practice.host, 'indicator', indicatorId, (v) => v.writing?.step === 'writing' && v.writing.done === 1)
    const injected = writing.then(() => practice.bench.inject(indicatorId, fault))
    const end = await practice.host.call('settings.write', { previewId: preview.previewId })
    await injected
    expect(practice.host.topics.get('indicator', indicatorId)).toMatchObject({ writing: null, openWrite: null })
    return end
  }

  it.each(faults)('%s has the old values put back, and so it is told', async (_what, fault) => {
    const [before, saved] = [practice.bench.settings(indicatorId), practice.bench.saved(indicatorId)]
    expect(await writeThrough(wanted().values, fault(1))).toMatchObject({ ok: false, failure: { kind: 'failed', end: 'restored' } })
    expect([practice.bench.settings(indicatorId), practice.bench.saved(indicatorId)]).toEqual([before, saved])
  })

  it.each(harmless)('%s does not keep it from being done', async (_what, fault) => {
    const { values, words } = wanted()
    expect(await writeThrough(values, fault(3))).toMatchObject({ ok: true, value: { saved: true } })
    expect(practice.bench.saved(indicatorId)).toMatchObject(words)
  })
})
