import { mkdirSync, rmSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { IndicatorView } from '../../../app/contract/views.ts'
import { openHostOn, type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

const indicatorId = 'ind-1'
const pointId = 'wt-101'
/** Two settings that are not neighbours, so that they travel in two requests. */
const wanted = { 'filter.time@1': '0.50', 'reading.interval@1': '0.5' }

let practice: PracticeHost

beforeEach(async () => {
  practice = await startPracticeHost()
})
afterEach(() => practice.close())

async function intend(values: Record<string, string>) {
  const revision = practice.host.topics.get('job')?.revision ?? 0
  value(await practice.host.call('point.intend', { pointId, revision, values }))
}

async function write(values: Record<string, string> = wanted) {
  await intend(values)
  const preview = value(await practice.host.call('settings.preview', { indicatorId }))
  return practice.host.call('settings.write', { previewId: preview.previewId })
}

describe('safe write', () => {
  it('writes what differs, reads it back, saves it, and it survives a power cycle', async () => {
    const outcome = await write()
    expect(outcome).toMatchObject({
      ok: true,
      value: {
        saved: true,
        alsoMoved: [],
        written: [
          { key: 'filter.time@1', held: '0.20', intended: '0.50' },
          { key: 'reading.interval@1', held: '0.2', intended: '0.5' },
        ],
      },
    })
    practice.bench.powerCycle(indicatorId)
    expect(practice.bench.settings(indicatorId)).toMatchObject({ 'filter.time@1': [50], 'reading.interval@1': [0x3f00, 0] })
    expect(practice.host.topics.get('indicator', indicatorId)?.differs).toEqual([])
  })

  it('shows beforehand which points get the values, and which are only on the same indicator', async () => {
    const touched = async () => {
      const { touches } = value(await practice.host.call('settings.preview', { indicatorId: 'ind-3' }))
      return touches.map(({ tag, written }) => [tag, written])
    }
    const revision = () => practice.host.topics.get('job')?.revision ?? 0
    value(await practice.host.call('point.intend', { pointId: 'wt-202', revision: revision(), values: { 'filter.cutoff@2': '20 Hz' } }))
    expect(await touched()).toEqual([
      ['WT-201', false],
      ['WT-202', true],
    ])
    const whole = { 'excitation.voltage': '10 V' }
    value(await practice.host.call('indicator.intend', { indicatorId: 'ind-3', revision: revision(), values: whole }))
    expect(await touched()).toEqual([
      ['WT-201', true],
      ['WT-202', true],
    ])
  })

  it('writes nothing where its journal cannot be kept, and is free for the next write', async () => {
    const before = practice.bench.settings(indicatorId)
    const folder = join(dirname(practice.jobPath), 'practice.job', 'journal')
    rmSync(folder, { recursive: true })
    expect(await write()).toMatchObject({
      ok: false,
      failure: { kind: 'not-allowed', why: expect.stringContaining('nothing was written') },
    })
    expect(practice.bench.settings(indicatorId)).toEqual(before)
    expect(practice.host.topics.get('indicator', indicatorId)?.writing).toBeNull()
    mkdirSync(folder)
    expect(await write()).toMatchObject({ ok: true, value: { saved: true } })
  })

  it('restores every old value when the indicator refuses one', async () => {
    const before = practice.bench.settings(indicatorId)
    practice.bench.inject(indicatorId, { kind: 'refuse', register: 'reading.interval@1', code: 3, times: 1 })
    const outcome = await write()
    expect(outcome).toMatchObject({
      ok: false,
      failure: {
        kind: 'failed',
        because: { kind: 'refused', code: 3 },
        end: 'restored',
        parameters: [
          { key: 'filter.time@1', wanted: '0.50', before: '0.20', now: { value: '0.20' } },
          { key: 'reading.interval@1', wanted: '0.5', before: '0.2', now: { value: '0.2' } },
        ],
      },
    })
    expect(practice.bench.settings(indicatorId)).toEqual(before)
    expect(practice.bench.saved(indicatorId)).toEqual(before)
  })

  it('finds by read-back a value that the indicator accepted and did not take', async () => {
    const before = practice.bench.settings(indicatorId)
    practice.bench.inject(indicatorId, { kind: 'ignore', register: 'filter.time@1', times: 1 })
    const outcome = await write()
    expect(outcome).toMatchObject({
      ok: false,
      failure: { because: { kind: 'read-back-differs', key: 'filter.time@1', wanted: '0.50', got: '0.20' }, end: 'restored' },
    })
    expect(practice.bench.settings(indicatorId)).toEqual(before)
  })

  it('stops before writing when somebody used the front panel since the preview', async () => {
    await intend(wanted)
    const preview = value(await practice.host.call('settings.preview', { indicatorId }))
    practice.bench.panel(indicatorId, 'excitation.voltage@1', [2])
    const outcome = await practice.host.call('settings.write', { previewId: preview.previewId })
    expect(outcome).toMatchObject({
      ok: false,
      failure: { kind: 'changed-meanwhile', changed: [{ key: 'excitation.voltage@1', held: '5 V', intended: '10 V' }] },
    })
    expect(practice.bench.settings(indicatorId)).toMatchObject({ 'filter.time@1': [20], 'excitation.voltage@1': [2] })
  })

  it('says what is unknown when the line goes while writing, and restores after a restart of the program', async () => {
    const before = practice.bench.settings(indicatorId)
    await intend(wanted)
    const preview = value(await practice.host.call('settings.preview', { indicatorId }))
    // The value arrives, its acknowledgement does not, and nothing is heard from then on.
    practice.host.topics.subscribe((m) => {
      if (m.kind === 'topic' && m.topic === 'indicator' && (m.value as IndicatorView).writing?.step === 'writing')
        practice.bench.inject(indicatorId, { kind: 'answer-lost', times: 100 })
    })
    const outcome = await practice.host.call('settings.write', { previewId: preview.previewId })
    expect(outcome).toMatchObject({
      ok: false,
      failure: {
        kind: 'failed',
        end: 'not-restored',
        parameters: [{ key: 'filter.time@1', wanted: '0.50', before: '0.20', now: 'unknown' }, { now: 'unknown' }],
      },
    })
    expect(practice.host.topics.get('indicator', indicatorId)?.openWrite).toMatchObject({
      wanted: [{ key: 'filter.time@1', held: '0.20', intended: '0.50' }, {}],
    })

    await practice.host.close()
    practice.bench.clearFaults(indicatorId)
    practice.host = openHostOn(practice.bench, practice.jobPath)
    await practice.host.call('visit.start', { by: 'A. Tester' })
    await practice.host.start()
    const open = practice.host.topics.get('indicator', indicatorId)?.openWrite
    expect(await write()).toMatchObject({ ok: false, failure: { kind: 'not-allowed', why: expect.stringContaining('interrupted') } })
    value(await practice.host.call('journal.resolve', { indicatorId, journalId: open?.journalId ?? '', how: 'restore' }))
    expect(practice.bench.settings(indicatorId)).toEqual(before)
    expect(practice.bench.saved(indicatorId)).toEqual(before)
    expect(practice.host.topics.get('indicator', indicatorId)?.openWrite).toBeNull()
  })

  it('restores to as found through an ordinary preview and write', async () => {
    const before = practice.bench.settings(indicatorId)
    value(await write())
    const preview = value(await practice.host.call('settings.preview-restore', { indicatorId, to: 'as-found' }))
    expect(preview.writes).toMatchObject([
      { key: 'filter.time@1', held: '0.50', intended: '0.20' },
      { key: 'reading.interval@1', held: '0.5', intended: '0.2' },
    ])
    value(await practice.host.call('settings.write', { previewId: preview.previewId }))
    expect(practice.bench.settings(indicatorId)).toEqual(before)
    expect(practice.bench.saved(indicatorId)).toEqual(before)
  })

  it('writes nothing to a unit that is another model', async () => {
    practice.bench.panel(indicatorId, 'identity.model', [999])
    expect(value(await practice.host.call('indicator.identify', { indicatorId }))).toMatchObject({ outcome: 'contradicted' })
    expect(await write()).toMatchObject({ ok: false, failure: { kind: 'not-allowed', why: expect.stringContaining('999') } })
  })

  it('refuses scaling values that the point does not imply', async () => {
    const revision = practice.host.topics.get('job')?.revision ?? 0
    const outcome = await practice.host.call('point.intend', { pointId, revision, values: { 'scale.upper.signal@1': '3.1' } })
    expect(outcome).toMatchObject({ ok: false, failure: { kind: 'refused-request', where: 'values' } })
  })

  it('refuses a value for a setting of the whole indicator that another of its points intends otherwise', async () => {
    const ask = (id: string, volts: string) =>
      practice.host.call('point.intend', {
        pointId: id,
        revision: practice.host.topics.get('job')?.revision ?? 0,
        values: { 'excitation.voltage': volts },
      })
    value(await ask('wt-201', '5 V'))
    expect(await ask('wt-202', '10 V')).toMatchObject({ ok: false, failure: { why: expect.stringContaining('WT-201 intends 5 V') } })
    value(await ask('wt-202', '5 V'))
  })

  it('changes what is intended for a setting of the whole indicator for all its points at once, on the present revision', async () => {
    const now = () => practice.host.topics.get('job')?.revision ?? 0
    const values = { 'excitation.voltage': '5 V' }
    value(await practice.host.call('point.intend', { pointId: 'wt-201', revision: now(), values }))
    value(await practice.host.call('point.intend', { pointId: 'wt-202', revision: now(), values }))
    const ask = (revision: number, to: Record<string, string>) =>
      practice.host.call('indicator.intend', { indicatorId: 'ind-3', revision, values: to })
    const intended = () =>
      practice.host.topics
        .get('job')
        ?.points.filter((p) => p.indicatorId === 'ind-3')
        .map((p) => p.intended['excitation.voltage'])
    expect(await ask(now() - 1, { 'excitation.voltage': '10 V' })).toMatchObject({ ok: false, failure: { kind: 'stale' } })
    expect(intended()).toEqual(['5 V', '5 V'])
    value(await ask(now(), { 'excitation.voltage': '10 V' }))
    expect(intended()).toEqual(['10 V', '10 V'])
    expect(practice.host.topics.get('indicator', 'ind-3')?.differs).toMatchObject([{ key: 'excitation.voltage', intended: '10 V' }])
    expect(await ask(now(), { 'filter.cutoff@1': '10 Hz' })).toMatchObject({
      ok: false,
      failure: { why: expect.stringContaining('belongs to one measuring point') },
    })
    expect(await ask(now(), { 'filter.none': '1' })).toMatchObject({ ok: false, failure: { why: expect.stringContaining('no setting') } })
  })

  it('refuses an edit that would put two points on one channel, a tag twice, or a load of nought', async () => {
    for (const [change, where] of [
      [{ indicatorId: 'ind-2' }, 'channel'],
      [{ tag: 'WT-102' }, 'tag'],
      [{ indicatorId: 'ind-99' }, 'indicatorId'],
      [{ maximumLoad: '0' }, 'maximumLoad'],
    ] as const) {
      const revision = practice.host.topics.get('job')?.revision ?? 0
      expect(await practice.host.call('point.edit', { pointId, revision, change })).toMatchObject({ ok: false, failure: { where } })
    }
  })

  it('refuses an edit made on an older revision, with the newer point', async () => {
    const outcome = await practice.host.call('point.edit', { pointId, revision: -1, change: { name: 'Other' } })
    expect(outcome).toMatchObject({ ok: false, failure: { kind: 'stale', newer: { tag: 'WT-101' } } })
  })
})
