import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { TopicName, TopicValue } from '../../../app/contract/contract.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { topicSeen } from '../../builders/topic-seen.ts'
import { makePoint } from '../../builders/weighing-point.ts'

let practice: PracticeHost
beforeEach(async () => {
  practice = await startPracticeHost({ start: false })
})
afterEach(() => practice.close())

const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const seen = <T extends TopicName>(topic: T, key: string, wanted: (v: TopicValue<T>) => boolean) =>
  topicSeen(practice.host, topic, key, wanted)
const revision = () => practice.host.topics.get('job')?.revision ?? -1
const busId = 'bus-1'
const met = (v: TopicValue<'indicator'>) => v.identity.outcome === 'confirmed' && v.held !== null

describe('an indicator is identified and read without being asked for', () => {
  it('when its bus is opened later, and kept as found', async () => {
    value(await call('visit.start', { by: 'A. Tester' }))
    value(await call('bus.open', { busId }))
    await seen('indicator', 'ind-1', met)
    await seen('indicator', 'ind-2', met)
    await expect
      .poll(() => Object.keys(practice.host.topics.get('job')?.visits[0]?.found ?? {}))
      .toEqual(expect.arrayContaining(['ind-1', 'ind-2']))
    expect(practice.bench.requests('ind-1').log.every((r) => r.kind === 'read')).toBe(true)
  })

  it('when it failed at first and gives readings later', async () => {
    practice.bench.inject('ind-1', { kind: 'exception', code: 6, times: 1 })
    value(await call('bus.open', { busId }))
    await seen('indicator', 'ind-2', met)
    expect(practice.host.topics.get('indicator', 'ind-1')?.identity.outcome).toBe('not-asked')
    value(await call('live.start', { pointIds: ['wt-101'] }))
    await seen('indicator', 'ind-1', met)
  })

  it('when it is added on an open bus', async () => {
    value(await call('bus.open', { busId }))
    await seen('indicator', 'ind-2', met)
    value(await call('point.remove', { revision: revision(), pointId: 'wt-101' }))
    value(await call('indicator.remove', { revision: revision(), indicatorId: 'ind-1' }))
    const indicator = { name: 'New one', busId, unit: 1, profileId: 'two-pairs-float32-locked' }
    const { id } = value(await call('indicator.add', { revision: revision(), indicator }))
    await seen('indicator', id, met)
  })
})

it('points that are added are read live, singly and out of a spreadsheet', async () => {
  await practice.host.start()
  value(await call('point.remove', { revision: revision(), pointId: 'wt-101' }))
  value(await call('point.remove', { revision: revision(), pointId: 'wt-102' }))
  const { id: _id, intended: _intended, ...point } = makePoint({ tag: 'WT-900' })
  const added = value(await call('point.add', { revision: revision(), point: { ...point, indicatorId: 'ind-1' } }))
  expect(await seen('live', added.id, (v) => v.state === 'fresh')).toBeDefined()
  const sheet = 'Tag,Maximum load (kg),Scale interval,Indicator\nWT-901,800,0.2,Hopper B transmitter'
  const imported = value(await call('points.import', { revision: revision(), from: { sheet }, dryRun: false, partly: false }))
  expect(imported).toMatchObject({ added: true, points: [{ tag: 'WT-901' }] })
  expect(await seen('live', imported.points[0]?.id ?? '', (v) => v.state === 'fresh')).toBeDefined()
})

it('a bus halted by another master sends again once it is opened anew', async () => {
  await practice.host.start()
  value(await call('practice.other-master', { busId, everyMs: 50 }))
  await seen('bus', busId, (v) => v.state === 'halted')
  value(await call('practice.other-master', { busId, everyMs: null }))
  value(await call('bus.open', { busId }))
  await seen('bus', busId, (v) => v.state === 'open')
  await seen('live', 'wt-101', (v) => v.state === 'fresh')
})

it('no preview is made of an indicator that is being written to', async () => {
  value(await call('visit.start', { by: 'A. Tester' }))
  await practice.host.start()
  const values = { 'filter.time@1': '0.50' }
  value(await call('point.intend', { pointId: 'wt-101', revision: revision(), values }))
  const { previewId } = value(await call('settings.preview', { indicatorId: 'ind-1' }))
  const writing = call('settings.write', { previewId })
  await seen('indicator', 'ind-1', (v) => v.writing !== null)
  expect(await call('settings.preview', { indicatorId: 'ind-1' })).toMatchObject({
    ok: false,
    failure: { why: expect.stringContaining('A write is under way') },
  })
  expect(await writing).toMatchObject({ ok: true })
})

it('an input whose sensor cable is out is over range, and comes back with it', async () => {
  await practice.host.start()
  value(await call('practice.cable', { of: { sensorsOf: 'wt-101' }, connected: false }))
  await seen('live', 'wt-101', (v) => v.state === 'fresh' && v.sample.status.includes('over-range'))
  expect(practice.host.topics.get('practice')?.sensorsOut).toEqual(['wt-101'])
  value(await call('practice.cable', { of: { sensorsOf: 'wt-101' }, connected: true }))
  await seen('live', 'wt-101', (v) => v.state === 'fresh' && !v.sample.status.includes('over-range'))
  expect(practice.host.topics.get('practice')?.sensorsOut).toEqual([])
})
