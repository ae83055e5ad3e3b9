import { readFileSync } from 'node:fs'
import { afterEach, describe, expect, it } from 'vitest'
import type { IndicatorView } from '../../../app/contract/views.ts'
import type { Job } from '../../../app/job/schema.ts'
import type { Profile } from '../../../app/profile/schema.ts'
import { busProfile, factory, inForce, type LineHost, type LineUnit, startLineHost } from '../../builders/line-host.ts'
import { value } from '../../builders/practice-host.ts'

let line: LineHost
afterEach(() => line.close())

const one: LineUnit[] = [{ key: 'a', unit: 3, serial: 1001 }]
const indicatorId = 'ind-a'
const start = async (change: Partial<Parameters<typeof startLineHost>[0]> = {}) => {
  line = await startLineHost({ way: 'rtu-over-tcp', units: one, indicators: [{ id: indicatorId, unit: 3 }], ...change })
  value(await line.host.call('indicator.identify', { indicatorId }))
}
const job = () => JSON.parse(readFileSync(line.jobPath, 'utf8')) as Job
const log = () =>
  readFileSync(line.jobPath.replace(/\.json$/, '/log.jsonl'), 'utf8')
    .trim()
    .split('\n')
    .map((text) => JSON.parse(text) as { unit: number; result: unknown })
const view = () => line.host.topics.get('indicator', indicatorId) as IndicatorView

async function intend(values: Record<string, string>) {
  value(await line.host.call('indicator.intend', { indicatorId, revision: line.host.topics.get('job')?.revision ?? 0, values }))
}
async function write(values: Record<string, string>) {
  await intend(values)
  const preview = value(await line.host.call('settings.preview', { indicatorId }))
  return line.host.call('settings.write', { previewId: preview.previewId })
}

const ways = ['pty', 'rtu-over-tcp'] as const
const effects: [string, Profile][] = [
  ['at once', inForce('now')],
  ['after saving', inForce('after-save')],
  ['after a restart', busProfile],
]

/** Silence is waited out many times where nobody is found. */
const patienceMs = 60_000

describe.each(ways)('over %s', { timeout: patienceMs }, (way) => {
  it.each(effects)('an address that comes into force %s is followed', async (_when, profile) => {
    await start({ way, profile })
    await intend({ 'bus.address': '7' })
    const preview = value(await line.host.call('settings.preview', { indicatorId }))
    expect(preview.writes).toMatchObject([{ key: 'bus.address', held: '3', intended: '7' }])
    expect(preview.cautions[0]).toMatch(
      /from address 3 at 19200 even 1 to address 7 at 19200 even 1.*goes last.*cannot be put back over a lost line/,
    )
    const written = await line.host.call('settings.write', { previewId: preview.previewId })
    expect(written).toMatchObject({ ok: true, value: { saved: true, moved: { from: { unit: 3 }, to: { unit: 7 }, when: 'now' } } })
    expect(job().indicators).toMatchObject([{ id: indicatorId, unit: 7 }])
    expect(log()).toMatchObject([{ unit: 3, result: { ok: true } }])
    expect(view()).toMatchObject({ openWrite: null, differs: [], writing: null })
    value(await line.host.call('settings.read', { indicatorId }))
    line.bench.powerCycle('a')
    expect(line.bench.saved('a')['bus.address']).toEqual([7])
    value(await line.host.call('indicator.identify', { indicatorId }))
  })

  it.each(effects)('address, rate and parity together that come into force %s are followed, after all else', async (_when, profile) => {
    await start({ way, profile })
    const values = { 'bus.address': '9', 'bus.baud': '57600', 'bus.parity': 'odd' }
    await intend(values)
    value(
      await line.host.call('point.intend', {
        pointId: `p-${indicatorId}`,
        revision: line.host.topics.get('job')?.revision ?? 0,
        values: { 'filter.cutoff@1': '5 Hz' },
      }),
    )
    const preview = value(await line.host.call('settings.preview', { indicatorId }))
    const written = await line.host.call('settings.write', { previewId: preview.previewId })
    expect(written).toMatchObject({ ok: true, value: { moved: { to: { unit: 9, format: { baud: 57_600, parity: 'odd', stopBits: 1 } } } } })
    expect(job().buses[0]?.link).toMatchObject({ format: { baud: 57_600, parity: 'odd', stopBits: 1 } })
    expect(job().indicators[0]).toMatchObject({ unit: 9 })
    const addresses = line.bench
      .requests('a')
      .log.filter((r) => r.kind === 'write')
      .map((r) => r.address)
    expect(addresses.indexOf(22)).toBeLessThan(addresses.indexOf(10))
    expect(line.bench.saved('a')).toMatchObject({ 'bus.address': [9], 'filter.cutoff@1': [3] })
    await line.reopen()
    expect(value(await line.host.call('indicator.identify', { indicatorId }))).toMatchObject({ outcome: 'confirmed' })
  })
})

describe('an address is refused', () => {
  it('where another indicator of the job has it on this bus', async () => {
    await start({
      indicators: [
        { id: indicatorId, unit: 3 },
        { id: 'ind-b', unit: 7 },
      ],
    })
    await intend({ 'bus.address': '7' })
    expect(await line.host.call('settings.preview', { indicatorId })).toMatchObject({
      ok: false,
      failure: { kind: 'refused-request', why: expect.stringContaining('IND-B has address 7'), where: 'bus.address' },
    })
  })

  it('where something answers there that the job does not know', async () => {
    await start({ units: [...one, { key: 'b', unit: 7, serial: 1002 }] })
    expect(await write({ 'bus.address': '7' })).toMatchObject({
      ok: false,
      failure: { kind: 'not-allowed', why: expect.stringContaining('Something answers at address 7 already') },
    })
    expect(line.bench.requests('a').log.some((r) => r.kind === 'write')).toBe(false)
  })

  it('as a line format, where others are on the bus or behind a gateway', async () => {
    await start({
      indicators: [
        { id: indicatorId, unit: 3 },
        { id: 'ind-b', unit: 7 },
      ],
    })
    await intend({ 'bus.baud': '9600' })
    expect(await line.host.call('settings.preview', { indicatorId })).toMatchObject({
      ok: false,
      failure: { why: expect.stringContaining('one line format, and on this one are also IND-B') },
    })
    await line.close()
    await start({ way: 'modbus-tcp' })
    await intend({ 'bus.baud': '9600' })
    expect(await line.host.call('settings.preview', { indicatorId })).toMatchObject({
      ok: false,
      failure: { why: expect.stringContaining('gateway') },
    })
  })
})

describe('an indicator that is not found at its new address', { timeout: patienceMs }, () => {
  it('is put back where it still answers at the old one', async () => {
    await start()
    line.bench.inject('a', { kind: 'ignore', register: 'bus.address', times: 1 })
    const before = line.bench.saved('a')
    const outcome = await write({ 'bus.address': '7' })
    expect(outcome).toMatchObject({
      ok: false,
      failure: {
        end: 'restored',
        whereabouts: { old: { unit: 3 }, new: { unit: 7 }, answers: 'at-old' },
        parameters: [{ now: { value: '3' } }],
      },
    })
    expect(line.bench.saved('a')).toEqual(before)
    expect(job().indicators[0]?.unit).toBe(3)
    expect(view().openWrite).toBeNull()
  })

  it('is told of with what was wanted, what is unknown and what to do; found later, the write is completed', async () => {
    await start()
    // Its restart takes it off the line for good.
    line.host.topics.subscribe((m) => {
      if (m.kind === 'topic' && m.topic === 'indicator' && (m.value as IndicatorView).writing?.step === 'following') line.bench.pull('line')
    })
    const outcome = await write({ 'bus.address': '7' })
    expect(outcome).toMatchObject({
      ok: false,
      failure: {
        end: 'not-restored',
        whereabouts: { answers: 'at-neither', advice: expect.stringContaining('Look at the bus menu of its front panel') },
        parameters: [{ key: 'bus.address', wanted: '7', before: '3', now: 'unknown' }],
      },
    })
    expect(job().indicators[0]?.unit).toBe(3)
    line.bench.plug('line')
    line.bench.powerCycle('a')
    const host = await line.reopen()
    const open = view().openWrite
    expect(open?.wanted).toMatchObject([{ key: 'bus.address', held: '3', intended: '7' }])
    value(await host.call('journal.resolve', { indicatorId, journalId: open?.journalId ?? '', how: 'complete' }))
    expect(job().indicators[0]?.unit).toBe(7)
    expect(line.bench.saved('a')['bus.address']).toEqual([7])
    expect(view()).toMatchObject({ openWrite: null, identity: { outcome: 'confirmed' } })
  })

  it('is found at the new address when the write is taken back, and sent home', async () => {
    await start()
    line.host.topics.subscribe((m) => {
      if (m.kind === 'topic' && m.topic === 'indicator' && (m.value as IndicatorView).writing?.step === 'reading-all')
        line.bench.pull('line')
    })
    expect(await write({ 'bus.address': '7' })).toMatchObject({ ok: false })
    line.bench.plug('line')
    const host = await line.reopen()
    value(await host.call('journal.resolve', { indicatorId, journalId: view().openWrite?.journalId ?? '', how: 'restore' }))
    expect(job().indicators[0]?.unit).toBe(3)
    line.bench.powerCycle('a')
    value(await host.call('indicator.identify', { indicatorId }))
    expect(line.bench.saved('a')['bus.address']).toEqual([3])
  })

  it('may need its power switched: it is told so, and the job keeps the old address', async () => {
    const { restart: _, ...procedures } = busProfile.procedures
    await start({ profile: inForce('after-restart', { procedures }) })
    expect(await write({ 'bus.address': '7' })).toMatchObject({ ok: true, value: { moved: { when: 'at-next-power-up' } } })
    expect(job().indicators[0]?.unit).toBe(3)
    value(await line.host.call('settings.read', { indicatorId }))
  })
})

it('keeps the line format that the factory set where only the address changes', async () => {
  await start()
  value(await write({ 'bus.address': '7' }))
  expect(job().buses[0]?.link).toMatchObject({ format: factory })
})
