import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { TopicName, TopicValue } from '../../../app/contract/contract.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { topicSeen } from '../../builders/topic-seen.ts'
import { jobWithoutHopperB } from '../../builders/undescribed.ts'

let practice: PracticeHost
beforeEach(async () => {
  practice = await startPracticeHost({ start: false })
})
afterEach(() => practice.close())

const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const busId = 'bus-1'

const seen = <T extends TopicName>(topic: T, key: string, wanted: (v: TopicValue<T>) => boolean) =>
  topicSeen(practice.host, topic, key, wanted)
const scanEnds = () => seen('scan', busId, (v) => v.state === 'ended')

it('lists ports, and tells buses of the practice bench apart from real ones', async () => {
  const { ports } = value(await call('ports.list', {}))
  const place = (key: string) => {
    const address = practice.bench.addressOf(key)
    return 'path' in address ? address.path : `${address.host}:${address.port}`
  }
  expect(ports.filter((p) => p.kind === 'practice')).toEqual([
    { kind: 'practice', bus: 'line-1', framing: 'rtu', at: place('line-1'), busId: 'bus-1' },
    { kind: 'practice', bus: 'line-2', framing: 'modbus-tcp', at: place('line-2'), busId: 'bus-2' },
  ])
})

describe('a scan', () => {
  const units = [1, 5, 9]
  const scan = { busId, units, formats: 'as-set', answerMs: 100 } as const

  it('says how long it takes, finds units with the profile that fits, only reads, and gives the bus back', async () => {
    value(await call('bus.open', { busId }))
    const begun = value(await call('bus.scan', { ...scan, formats: 'usual', profileId: 'two-pairs-int32-low-word-first' }))
    // The format of the profile with its unit, then unit 1 and the two others in 32 formats each.
    expect(begun.of).toBe(1 + 32 + 32 * 2 - 1)
    expect(await call('bus.open', { busId })).toMatchObject({ ok: false, failure: { why: expect.stringContaining('being scanned') } })
    const format = { baud: 19_200, parity: 'even', stopBits: 1 }
    const ended = await scanEnds()
    expect(ended).toMatchObject({ endedBy: null, trying: null, leftMs: 0, unclear: [] })
    expect(ended.found.map(({ tookMs, ...found }) => [tookMs !== null, found])).toEqual([
      [true, { unit: 1, format, profileIds: ['two-pairs-float32-locked'] }],
      // This one has no holding register 0 (profile): it refuses the probe, and is there all the same.
      [false, { unit: 5, format, profileIds: ['two-pairs-int32-low-word-first'] }],
    ])
    for (const key of ['ind-1', 'ind-2']) expect(practice.bench.requests(key).log.filter((r) => r.kind !== 'read')).toEqual([])
    expect((await seen('bus', busId, (v) => v.state === 'open')).state).toBe('open')
    expect(await call('indicator.identify', { indicatorId: 'ind-1' })).toMatchObject({ ok: true, value: { outcome: 'confirmed' } })
  })

  it('counts what answers, and calls no address silent at which nobody may be', async () => {
    const told: [answering: number, silent: number][] = []
    practice.host.topics.subscribe((event) => {
      if (event.kind !== 'topic' || event.topic !== 'bus' || event.key !== busId) return
      const { answering, silent } = event.value as TopicValue<'bus'>
      told.push([answering, silent])
    })
    value(await call('bus.scan', { ...scan, units: [1, 5, 9, 10, 11, 12] }))
    await scanEnds()
    expect(told).toContainEqual([2, 0])
    expect(told.filter(([, silent]) => silent > 0)).toEqual([])
  })

  it('stops when told to, and when all sending is stopped', async () => {
    const many = { ...scan, units: Array.from({ length: 200 }, (_, i) => i + 10) }
    value(await call('bus.scan', many))
    await seen('scan', busId, (v) => v.asked >= 1)
    value(await call('bus.scan-stop', { busId }))
    expect(practice.host.topics.get('scan', busId)).toMatchObject({ state: 'ended', endedBy: 'It was stopped.', found: [] })

    value(await call('bus.scan', many))
    await seen('scan', busId, (v) => v.state === 'running' && v.asked >= 1)
    value(await call('sending.stop', {}))
    expect(await scanEnds()).toMatchObject({ endedBy: 'It was stopped.' })
    expect(await call('bus.scan', many)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('stopped') } })
  })

  it('of a gateway asks units that a serial line cannot have, and knows no line format', async () => {
    value(await call('bus.scan', { ...scan, busId: 'bus-2', units: [1, 2, 3, 255] }))
    const ended = await seen('scan', 'bus-2', (v) => v.state === 'ended')
    expect(ended.found.map(({ unit, format, profileIds }) => ({ unit, format, profileIds }))).toEqual([
      { unit: 1, format: null, profileIds: ['two-pairs-four-channels'] },
      { unit: 2, format: null, profileIds: ['two-pairs-moving-decimals'] },
    ])
    expect(await call('bus.scan', { ...scan, units: [255] })).toMatchObject({ ok: false, failure: { where: 'units' } })
  })
})

describe('listening', () => {
  it('hears nothing on a quiet line, and nothing is sent', async () => {
    value(await call('bus.listen', { busId, seconds: 1 }))
    expect(await seen('heard', busId, (v) => v.state === 'ended')).toMatchObject({ bytes: 0, verdict: 'silent', forMs: 1000 })
    expect(practice.bench.requests('ind-1').count).toBe(0)
  })

  it('names another master with what it asks, its rate and who answers, while requests wait', async () => {
    value(await call('bus.open', { busId }))
    value(await call('practice.other-master', { busId, everyMs: 60 }))
    value(await call('bus.listen', { busId, seconds: 30 }))
    const heard = await seen('heard', busId, (v) => (v.asks[0]?.times ?? 0) >= 3)
    expect(heard).toMatchObject({ verdict: 'other-master', asks: [{ unit: 99, function: 3 }], answersFrom: [99], strayBytes: 0 })
    expect(heard.asks[0]?.everyMs).toBeGreaterThan(0)
    expect(heard.says).toContain('unit 99 with function 3 every')
    value(await call('bus.listen-stop', { busId }))
    expect(practice.host.topics.get('heard', busId)?.state).toBe('ended')
    expect(practice.host.topics.get('bus', busId)).toMatchObject({ state: 'halted', why: expect.stringContaining('Another master') })
  })

  it('is refused on Modbus TCP', async () => {
    expect(await call('bus.listen', { busId: 'bus-2', seconds: 1 })).toMatchObject({ ok: false, failure: { where: 'busId' } })
  })
})

it('saves every frame with its time beside the job, over closing and opening of the bus', async () => {
  const { file } = value(await call('bus.tap-start', { busId }))
  for (const _ of [1, 2]) {
    value(await call('bus.open', { busId }))
    value(await call('indicator.identify', { indicatorId: 'ind-1' }))
    for (const id of ['ind-1', 'ind-2']) await seen('indicator', id, (v) => v.held !== null)
    value(await call('bus.close', { busId }))
  }
  expect(await call('bus.tap-start', { busId })).toMatchObject({ ok: false, failure: { why: expect.stringContaining('already') } })
  expect(value(await call('bus.tap-stop', { busId }))).toEqual({ file })
  const text = readFileSync(join(dirname(practice.jobPath), 'practice.job', 'taps', file), 'utf8')
  const rows = text.trim().split('\n')
  const frames = rows.slice(rows.indexOf('seconds,direction,bytes,frame,note') + 1, -1).map((row) => row.split(','))
  expect(text).toContain('bus,Practice line\n')
  const begins = frames.map(([, direction, , frame]) => `${direction} ${frame?.slice(0, 5)}`)
  const sent = begins.filter((_, i) => i % 2 === 0)
  expect(new Set(sent.map((s) => s.slice(0, 7)))).toEqual(new Set(['sent 01', 'sent 05']))
  expect(begins).toEqual(sent.flatMap((s) => [s, s.replace('sent', 'received')]))
  // Model, the only test of identity of this profile, is holding register 0 (profile): 01 03 00 00 00 ...
  expect(frames[0]?.[3]).toMatch(/^01 03 00 00 00 /)
  for (const [seconds, , bytes, frame] of frames) {
    expect(seconds).toMatch(/^\d+\.\d{6}$/)
    expect(frame?.split(' ')).toHaveLength(Number(bytes))
  }
  expect(rows.at(-1)).toMatch(new RegExp(`^ended,.*Z,${frames.length}$`))
  expect(practice.host.topics.get('tap', busId)).toMatchObject({ state: 'ended', frames: frames.length })
})

describe('the practice bench', () => {
  const identify = (indicatorId: string) => call('indicator.identify', { indicatorId })
  const shown = () => practice.host.topics.get('practice')

  it('shows the display of every unit on its lines, in the job or not, and takes loads for both', async () => {
    const other = await startPracticeHost({ start: false, job: jobWithoutHopperB() })
    const onLine = async () => value(await other.host.call('practice.look', {})).units.filter((u) => u.busId === busId)
    expect((await onLine()).map((u) => [u.unit, u.indicatorId])).toEqual([
      [1, 'ind-1'],
      [5, null],
    ])
    const load = { busId, unit: 5, channel: 1, load: '400' }
    value(await other.host.call('practice.load-unit', load))
    expect((await onLine())[1]?.channels).toEqual([
      // Two decimals and kilograms: what its profile states for the reading.
      { channel: 1, load: 400, loadUnit: 'kg', unit: 'kg', shows: expect.stringMatching(/^-?\d+\.\d\d$/) },
    ])
    for (const wrong of [
      { ...load, unit: 7 },
      { ...load, channel: 2 },
      { ...load, busId: 'bus-9' },
    ])
      expect(await other.host.call('practice.load-unit', wrong)).toMatchObject({ ok: false, failure: { where: 'unit' } })
    other.bench.power('ind-2', false)
    expect((await onLine())[1]?.channels[0]?.shows).toBeNull()
    await other.close()
  })

  it('has one unit fall silent when its cable is pulled, while others on the bus answer', async () => {
    value(await call('bus.open', { busId }))
    value(await call('practice.cable', { of: { indicatorId: 'ind-1' }, connected: false }))
    expect(shown()?.indicators).toMatchObject({ 'ind-1': { cable: false, power: true }, 'ind-2': { cable: true } })
    expect(await identify('ind-1')).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })
    expect(await identify('ind-2')).toMatchObject({ ok: true })
    value(await call('practice.cable', { of: { indicatorId: 'ind-1' }, connected: true }))
    expect(await identify('ind-1')).toMatchObject({ ok: true })
  })

  it('has the whole bus fall silent when its cable is pulled, and come back', async () => {
    value(await call('bus.open', { busId }))
    value(await call('practice.cable', { of: { busId }, connected: false }))
    expect(shown()?.buses[busId]).toEqual({ cable: false, adapter: null, otherMasterEveryMs: null })
    expect(await identify('ind-2')).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })
    value(await call('practice.cable', { of: { busId }, connected: true }))
    expect(await identify('ind-2')).toMatchObject({ ok: true })
    expect(await call('practice.cable', { of: { adapterOf: busId }, connected: false })).toMatchObject({ ok: false })
  })

  it('loses what was not saved when a unit is switched off and on', async () => {
    value(await call('bus.open', { busId }))
    value(await call('practice.power', { indicatorId: 'ind-2', power: 'off' }))
    expect(await identify('ind-2')).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })
    expect(shown()?.indicators['ind-2']).toEqual({ cable: true, power: false })
    value(await call('practice.power', { indicatorId: 'ind-2', power: 'cycle' }))
    expect(shown()?.indicators['ind-2']).toEqual({ cable: true, power: true })
  })

  it('has another master only on serial lines, and shows it', async () => {
    value(await call('practice.other-master', { busId, everyMs: 10_000 }))
    expect(shown()?.buses[busId]?.otherMasterEveryMs).toBe(10_000)
    value(await call('practice.other-master', { busId, everyMs: null }))
    expect(shown()?.buses[busId]?.otherMasterEveryMs).toBeNull()
    expect(await call('practice.other-master', { busId: 'bus-2', everyMs: 1000 })).toMatchObject({ ok: false })
  })

  it('knows an indicator by its address, whatever the job calls it', async () => {
    const job = practiceJob()
    const renamed = (id: string | undefined) => (id === 'ind-2' ? 'found-by-a-scan' : (id ?? ''))
    const other = await startPracticeHost({
      start: false,
      job: {
        ...job,
        indicators: job.indicators.map((i) => ({ ...i, id: renamed(i.id) })),
        points: job.points.map((p) => ({ ...p, indicatorId: renamed(p.indicatorId) })),
      },
    })
    value(await other.host.call('practice.load', { pointId: 'wt-102', load: '400' }))
    expect(other.bench.loads().find((l) => l.indicator === 'ind-2')).toMatchObject({ load: 400 })
    await other.close()
  })
})
