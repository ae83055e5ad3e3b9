import { existsSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { topicSeen } from '../../builders/topic-seen.ts'
import { makePoint } from '../../builders/weighing-point.ts'

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost({ start: false })
})
afterAll(() => practice.close())

const { id: _id, intended: _intended, ...fields } = makePoint({ tag: 'WT-900' })
const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const revision = () => practice.host.topics.get('job')?.revision ?? -1
const profileId = 'two-pairs-float32-locked'
const refused = (why: string) => ({ ok: false, failure: { kind: 'refused-request', why: expect.stringContaining(why) } })

describe('edits of a job', () => {
  it('a bus, an indicator on it and a point come and go, and the host follows', async () => {
    const link = { kind: 'practice' as const, bus: 'line-9', framing: 'rtu' as const }
    const bus = value(await call('bus.add', { revision: revision(), bus: { name: 'New', link } }))
    expect(practice.host.topics.get('bus', bus.id)).toMatchObject({ state: 'closed' })
    const unit = { name: 'Panel N', busId: bus.id, unit: 5, profileId }
    const made = value(await call('indicator.add', { revision: revision(), indicator: unit }))
    expect(practice.host.profileOf(made.id)?.id).toBe(profileId)
    const point = value(await call('point.add', { revision: revision(), point: { ...fields, indicatorId: made.id } }))
    expect(practice.host.topics.get('live', point.id)).toMatchObject({ state: 'never-read' })

    expect(await call('bus.remove', { revision: revision(), busId: bus.id })).toMatchObject(refused('Panel N'))
    expect(await call('indicator.remove', { revision: revision(), indicatorId: made.id })).toMatchObject(refused('WT-900'))
    value(await call('point.remove', { revision: revision(), pointId: point.id }))
    value(await call('indicator.remove', { revision: revision(), indicatorId: made.id }))
    expect(practice.host.profileOf(made.id)).toBeUndefined()
    expect(practice.host.topics.get('indicator', made.id)).toBeUndefined()
    practice.host.topics.set('tap', bus.id, { state: 'ended', file: 'line.txt', startedAt: '2026-11-25T10:00:00.000Z', frames: 0 })
    value(await call('bus.remove', { revision: revision(), busId: bus.id }))
    for (const topic of ['bus', 'tap'] as const) expect(practice.host.topics.get(topic, bus.id), topic).toBeUndefined()
  })

  it('a bus that is open is not taken away; closed, it is', async () => {
    const { buses } = practiceJob()
    const { host, close } = await startPracticeHost({ start: false, job: { ...practiceJob(), indicators: [], points: [] } })
    const busId = buses[0]!.id
    const remove = () => host.call('bus.remove', { revision: host.topics.get('job')?.revision ?? -1, busId })
    value(await host.call('bus.open', { busId }))
    expect(await remove()).toMatchObject(refused('The bus is open. Close it first.'))
    expect(host.topics.get('bus', busId)).toMatchObject({ state: 'open' })
    value(await host.call('bus.close', { busId }))
    value(await remove())
    expect(host.topics.get('job')?.buses.map((b) => b.id)).toEqual([buses[1]?.id])
    await close()
  })

  it('a stale edit is refused and changes nothing', async () => {
    const before = practice.host.topics.get('job')
    expect(await call('job.edit', { revision: 999, change: { name: 'X' } })).toMatchObject({ ok: false, failure: { kind: 'stale' } })
    expect(await call('bus.remove', { revision: 999, busId: 'bus-1' })).toMatchObject({ ok: false, failure: { kind: 'stale' } })
    expect(practice.host.topics.get('job')).toBe(before)
  })

  it('is not made stale by what the host records in a visit meanwhile, and is by another edit', async () => {
    const base = revision()
    value(await call('visit.start', { by: 'B. Next' }))
    expect(revision()).toBe(base + 1)
    value(await call('job.edit', { revision: base, change: { site: 'Mill, east' } }))
    expect(await call('job.edit', { revision: base, change: { site: 'Mill' } })).toMatchObject({ ok: false, failure: { kind: 'stale' } })
    expect(practice.host.topics.get('job')?.site).toBe('Mill, east')
  })

  it('another address is another unit: its session knows nothing any more', async () => {
    value(await call('bus.open', { busId: 'bus-1' }))
    value(await call('indicator.identify', { indicatorId: 'ind-1' }))
    expect(practice.host.topics.get('indicator', 'ind-1')?.identity.outcome).toBe('confirmed')
    value(await call('indicator.edit', { revision: revision(), indicatorId: 'ind-1', change: { name: 'Renamed' } }))
    expect(practice.host.topics.get('indicator', 'ind-1')?.identity.outcome).toBe('confirmed')
    value(await call('indicator.edit', { revision: revision(), indicatorId: 'ind-1', change: { unit: 77 } }))
    expect(practice.host.topics.get('indicator', 'ind-1')?.identity.outcome).toBe('not-asked')
    value(await call('indicator.edit', { revision: revision(), indicatorId: 'ind-1', change: { unit: 1 } }))
  })

  it('refuses what cannot be', async () => {
    const tcp = { kind: 'modbus-tcp' as const, host: 'h', port: 502 }
    expect(await call('bus.add', { revision: revision(), bus: { name: 'TCP', link: tcp } })).toMatchObject(refused('practice job'))
    const { link } = practice.host.topics.get('job')!.buses[0]!
    expect(await call('bus.add', { revision: revision(), bus: { name: 'Again', link } })).toMatchObject(
      refused('Practice line goes the same way already'),
    )
    const add = (change: object) =>
      call('indicator.add', { revision: revision(), indicator: { name: 'I', busId: 'bus-1', unit: 9, profileId, ...change } })
    expect(await add({ unit: 1 })).toMatchObject(refused('address 1'))
    expect(await add({ unit: 0 })).toMatchObject(refused('1 to 247'))
    expect(await add({ profileId: 'none' })).toMatchObject(refused('no profile'))
    expect(await add({ busId: 'none' })).toMatchObject(refused('no bus'))
    const point = (change: object) => call('point.add', { revision: revision(), point: { ...fields, ...change } })
    expect(await point({ tag: 'WT-101' })).toMatchObject(refused('already used'))
    expect(await point({ indicatorId: 'ind-1', channel: 1 })).toMatchObject(refused('already measures'))
    expect(await point({ maximumLoad: '0' })).toMatchObject(refused('above nought'))
    expect(await practice.host.callUntrusted('point.add', { revision: 1, point: { ...fields, maximumLoad: 'NaN' } })).toMatchObject({
      ok: false,
    })
  })

  it('does not take away what is in use on the wire, is recorded, or stands in evidence', async () => {
    const rev = revision
    value(await call('bus.add', { revision: rev(), bus: { name: 'Spare', link: { kind: 'practice', bus: 'line-2x', framing: 'rtu' } } }))
    const { link } = practice.host.topics.get('job')!.buses[0]!
    value(await call('bus.open', { busId: 'bus-1' }))
    const elsewhere = { ...link, bus: 'line-7' } as typeof link
    expect(await call('bus.edit', { revision: rev(), busId: 'bus-1', change: { link: elsewhere } })).toMatchObject(
      refused('Practice line is open'),
    )
    value(await call('bus.edit', { revision: rev(), busId: 'bus-1', change: { name: 'Renamed while open' } }))
    const inService = value(await call('point.add', { revision: rev(), point: fields }))
    value(await call('record.start', { pointIds: [inService.id] }))
    expect(await call('point.remove', { revision: rev(), pointId: inService.id })).toMatchObject(refused('WT-900 is being recorded'))
    value(await call('record.stop', { pointIds: [inService.id] }))
    value(await call('visit.start', { by: 'A. Tester' }))
    value(await call('check.start', { pointId: inService.id, when: 'as-found' }))
    expect(await call('point.remove', { revision: rev(), pointId: inService.id })).toMatchObject(refused('evidence is not taken away'))

    const fewer = { profileId: 'two-pairs-moving-decimals' }
    expect(await call('indicator.edit', { revision: rev(), indicatorId: 'ind-3', change: fewer })).toMatchObject(
      refused('WT-202 measures channel 2, which this profile does not have'),
    )
  })

  it('leaves an indicator alone that is being written to, or whose write was interrupted', async () => {
    const indicatorId = 'ind-1'
    value(await call('bus.open', { busId: 'bus-1' }))
    value(await call('indicator.identify', { indicatorId }))
    value(await call('point.intend', { pointId: 'wt-101', revision: revision(), values: { 'filter.time@1': '0.50' } }))
    const preview = value(await call('settings.preview', { indicatorId }))
    const edits = () => [
      call('indicator.edit', { revision: revision(), indicatorId, change: { unit: 9 } }),
      call('indicator.remove', { revision: revision(), indicatorId }),
      call('bus.scan', { busId: 'bus-1', units: [1], formats: 'as-set', answerMs: 100 }),
    ]
    const writing = topicSeen(practice.host, 'indicator', indicatorId, (v) => v.writing?.step === 'writing').then(async () => {
      practice.bench.inject(indicatorId, { kind: 'answer-lost', times: 100 })
      return Promise.all(edits())
    })
    expect(await call('settings.write', { previewId: preview.previewId })).toMatchObject({ ok: false, failure: { end: 'not-restored' } })
    expect(await writing).toMatchObject([refused('under way'), refused('under way'), refused('is being written to')])
    practice.bench.clearFaults(indicatorId)
    const [edit, remove] = await Promise.all(edits().slice(0, 2))
    expect([edit, remove]).toMatchObject([refused('was interrupted'), refused('was interrupted')])
  }, 30_000)

  it('hands the job on as one bundle', async () => {
    const to = join(dirname(practice.jobPath), 'hand-on.zip')
    expect(value(await call('job.bundle', { to }))).toMatchObject({ path: to })
    expect(existsSync(to)).toBe(true)
    expect(await call('job.bundle', { to })).toMatchObject(refused('already'))
  })
})
