import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { IntendedChange } from '../../../app/job/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { proposeScaling } from '../../../app/scaling/propose-scaling.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost({ start: false })
  value(await practice.host.call('visit.start', { by: 'A. Tester' }))
  for (const busId of ['bus-1', 'bus-2']) value(await practice.host.call('bus.open', { busId }))
  for (const indicatorId of ['ind-1', 'ind-3']) value(await practice.host.call('indicator.identify', { indicatorId }))
})
afterAll(() => practice.close())

const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const job = () => practice.host.topics.get('job')!
const revision = () => job().revision
const point = (id: string) => job().points.find((p) => p.id === id)!
const session = () => practice.host.topics.get('session')!
const intend = (values: IntendedChange, pointId = 'wt-101') => call('point.intend', { pointId, revision: revision(), values })
const intendOnWhole = (values: IntendedChange) => call('indicator.intend', { indicatorId: 'ind-3', revision: revision(), values })
const preview = async () => value(await call('settings.preview', { indicatorId: 'ind-1' }))
const refused = (why: string) => ({ ok: false, failure: { kind: 'refused-request', why: expect.stringContaining(why), where: 'values' } })

describe('an intended value that is taken back', () => {
  it('is written no more, and is a step that can be undone', async () => {
    value(await intend({ 'filter.time@1': '0.50', 'input.range@1': '1 mV/V' }))
    expect((await preview()).writes.map((w) => w.key).toSorted()).toEqual(['filter.time@1', 'input.range@1'])

    value(await intend({ 'filter.time@1': null }))
    expect(point('wt-101').intended).toEqual({ 'input.range@1': '1 mV/V' })
    expect(practice.host.topics.get('indicator', 'ind-1')?.differs.map((d) => d.key)).toEqual(['input.range@1'])
    expect((await preview()).writes.map((w) => w.key)).toEqual(['input.range@1'])

    expect(session().undo).toBe('Intended values of WT-101 taken back')
    value(await call('job.undo', { revision: revision() }))
    expect(point('wt-101').intended).toEqual({ 'filter.time@1': '0.50', 'input.range@1': '1 mV/V' })
    expect(session().undo).toBe('Intended values of WT-101')
    value(await intend({ 'filter.time@1': null, 'input.range@1': null }))
  })

  it('is not written by a review that showed it before', async () => {
    value(await intend({ 'filter.time@1': '0.50' }))
    const { previewId } = await preview()
    value(await intend({ 'filter.time@1': null }))
    const before = practice.bench.settings('ind-1')
    expect(await call('settings.write', { previewId })).toMatchObject({
      ok: false,
      failure: { kind: 'not-allowed', why: expect.stringContaining('What is intended is no longer what was shown') },
    })
    expect(practice.bench.settings('ind-1')).toEqual(before)
  })

  it('goes with the whole scaling, never with half of it', async () => {
    const profile = bundledProfiles.get('two-pairs-float32-locked')!
    const { pairs } = value(proposeScaling(point('wt-101'), profile))
    const [first = '', ...others] = Object.keys(pairs.values)
    value(await intend(pairs.values))
    expect(await intend({ [first]: null })).toMatchObject(refused('The scaling values of WT-101 belong together'))
    expect(await intend({ ...pairs.values, [first]: null })).toMatchObject(refused('take back all of them, or none'))
    expect(point('wt-101').intended).toEqual(pairs.values)
    value(await intend(Object.fromEntries([first, ...others].map((key) => [key, null]))))
    expect(point('wt-101').intended).toEqual({})
  })

  it('has to be intended: anything else is named', async () => {
    const before = revision()
    expect(await intend({ 'filter.time@1': null })).toMatchObject(refused('Filter time is not intended; there is nothing to take back.'))
    expect(await intendOnWhole({ 'excitation.voltage': null })).toMatchObject(refused('is not intended'))
    expect(revision()).toBe(before)
  })

  it('of the whole indicator is taken back for all its points at once, as one step', async () => {
    const intended = () => ['wt-201', 'wt-202'].map((id) => point(id).intended['excitation.voltage'])
    value(await intendOnWhole({ 'excitation.voltage': '5 V' }))
    expect(await intend({ 'excitation.voltage': null }, 'wt-201')).toMatchObject(refused('and WT-202 intends it too'))
    expect(intended()).toEqual(['5 V', '5 V'])
    value(await intendOnWhole({ 'excitation.voltage': null }))
    expect(intended()).toEqual([undefined, undefined])
    value(await call('job.undo', { revision: revision() }))
    expect(intended()).toEqual(['5 V', '5 V'])
  })
})
