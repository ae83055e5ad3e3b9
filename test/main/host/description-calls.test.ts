import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { HostCalls } from '../../../app/contract/contract.ts'
import { parseProfile } from '../../../app/profile/read-profile.ts'
import { readJob } from '../../../main/files/job-store.ts'
import { openHostOn, type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { hopperB, jobWithoutHopperB } from '../../builders/undescribed.ts'

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost({ job: jobWithoutHopperB() })
})
afterAll(() => practice.close())

const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const drafts = () => practice.host.topics.get('descriptions')?.drafts ?? []
const draft = (id: string) => drafts().find((d) => d.id === id)!
const which = (id: string) => ({ descriptionId: id, revision: draft(id).revision })
const beside = (...parts: string[]) => join(practice.jobPath.replace(/\.json$/, ''), ...parts)
const begin = async (name: string, more: Partial<HostCalls['description.start']['request']> = {}) =>
  value(await call('description.start', { name, ...more })).descriptionId

type Found = HostCalls['description.name-found']['request']['found']
/** Two's complement, low word first: 12345 is 30 39, -1 is FF FF FF FF. */
const reading: Found = {
  name: 'live.reading',
  channel: 1,
  table: 'holding',
  access: 'read',
  role: 'live',
  kept: 'never',
  unit: 'kg',
  shape: { address: 100, type: 'i32', order: 'CDAB', decimals: 2 },
  display: '123.45',
  words: [0x3039, 0x0000],
}
const pair = (name: string, address: number, words: number[], decimals: number, display: string, unit: 'kg' | 'mV/V'): Found => ({
  ...{ name, channel: 1, table: 'holding', access: 'read-write', role: 'setting', kept: 'at-once', unit, display, words },
  shape: { address, type: 'i32', order: 'CDAB', decimals },
})
// 19710 is 4C FE; 68130 is 00 01 0A 22; 80000 is 00 01 38 80.
const pairs = [
  pair('scale.lower.signal', 40, [0x4cfe, 0], 5, '0.19710', 'mV/V'),
  pair('scale.lower.reading', 42, [0, 0], 2, '0.00', 'kg'),
  pair('scale.upper.signal', 44, [0x0a22, 1], 5, '0.68130', 'mV/V'),
  pair('scale.upper.reading', 46, [0x3880, 1], 2, '800.00', 'kg'),
]

const weighingPoint = (tag: string): HostCalls['point.add']['request']['point'] => ({
  ...{ tag, name: '', channel: 1, unit: 'kg', maximumLoad: '800', scaleInterval: '0.2', measured: {}, wiring: {} },
  loadPath: { sharePercent: '100' },
  sensors: { certificates: [], trimmed: false },
})

describe('a description', () => {
  it('becomes a profile that a point of the job uses at once', async () => {
    const id = await begin('Bagging scale', { unit: hopperB })
    for (const found of [reading, ...pairs]) value(await call('description.name-found', { ...which(id), found }))
    expect(draft(id).problems).toEqual([{ path: 'scaling', message: 'say which scaling model the indicator has' }])
    const early = await call('description.save', which(id))
    expect(early).toMatchObject({ ok: false, failure: { kind: 'unfit', problems: [{ path: 'scaling' }] } })
    const scaling = { model: 'two-pairs', pairAboveMaximum: false, evidence: 'manual', page: '7' } as const
    value(await call('description.edit', { ...which(id), change: { scaling } }))
    const saved = value(await call('description.save', which(id)))
    expect(saved).toMatchObject({ profileId: 'bagging-scale', path: beside('profiles', 'bagging-scale.profile.json') })
    expect(parseProfile(readFileSync(saved.path, 'utf8'))).toMatchObject({
      ok: true,
      value: { id: 'bagging-scale', registers: { length: 5 } },
    })
    expect(readJob(practice.jobPath)).toMatchObject({ ok: true, value: { profiles: [{ id: 'bagging-scale' }] } })

    const revision = () => practice.host.topics.get('job')?.revision ?? -1
    const indicator = { name: 'Bagging', ...hopperB, profileId: 'bagging-scale' }
    const indicatorId = value(await call('indicator.add', { revision: revision(), indicator })).id
    const pointId = value(await call('point.add', { revision: revision(), point: { ...weighingPoint('WT-103'), indicatorId } })).id
    value(await call('live.start', { pointIds: [pointId] }))
    await expect.poll(() => practice.host.topics.get('live', pointId)?.state, { timeout: 10_000 }).toBe('fresh')
    const live = practice.host.topics.get('live', pointId)
    const { reading: shown } = practice.bench.display('ind-2', 1)
    expect(live?.state === 'fresh' && Math.abs(Number(live.sample.reading) - Number(shown))).toBeLessThan(1)
  }, 30_000)

  it('changed and saved again, it gives its indicators the new rules', async () => {
    const { id } = drafts().find((d) => d.draft.id === 'bagging-scale')!
    value(await call('description.edit', { ...which(id), change: { about: 'On the bagging line.' } }))
    expect(draft(id).savedRevision).toBeLessThan(draft(id).revision)
    value(await call('description.save', which(id)))
    expect(draft(id).savedRevision).toBe(draft(id).revision)
    const [indicator] = practice.host.topics.get('job')?.indicators.filter((i) => i.profileId === 'bagging-scale') ?? []
    expect(practice.host.profileOf(indicator!.id)?.about).toBe('On the bagging line.')
    const four = await call('description.edit', { ...which(id), change: { channels: 0 } })
    value(four)
    expect(await call('description.save', which(id))).toMatchObject({ ok: false, failure: { kind: 'unfit' } })
  })

  it('takes nothing for found that does not mean what the display showed', async () => {
    const id = await begin('Doubtful')
    const wrong = await call('description.name-found', { ...which(id), found: { ...reading, display: '123.55' } })
    expect(wrong).toMatchObject({
      ok: false,
      failure: {
        kind: 'unfit',
        problems: [{ path: 'display', message: '3039 0000 (hex) read so is 123.45, and the display showed 123.55' }],
      },
    })
    const unit: Found = { ...reading, name: 'reading.unit', role: 'setting', options: [{ raw: 1, means: 'kg' }], display: 'kg' }
    const shape = { address: 50, type: 'u16', order: 'AB' } as const
    value(await call('description.name-found', { ...which(id), found: { ...unit, shape, words: [1] } }))
    expect(await call('description.name-found', { ...which(id), found: { ...unit, shape, words: [2] } })).toMatchObject({ ok: false })
    expect(draft(id).draft.registers).toMatchObject([{ name: 'reading.unit', evidence: 'hardware' }])
  })

  it('is there again after a restart, word for word, and an edit on an older revision is refused with the newer', async () => {
    const id = await begin('Half done')
    value(await call('description.name-found', { ...which(id), found: reading }))
    const before = draft(id)
    await practice.host.close()
    writeFileSync(beside('descriptions', 'broken.description.json'), '{"schema": 1, "id"')
    practice.host = openHostOn(practice.bench, practice.jobPath)
    await practice.host.start()
    expect(draft(id)).toEqual(before)
    expect(practice.host.topics.get('descriptions')?.unreadable).toEqual([
      { file: 'broken.description.json', why: 'The file is not whole JSON.' },
    ])
    const stale = await call('description.edit', { descriptionId: id, revision: 0, change: { about: 'x' } })
    expect(stale).toMatchObject({ ok: false, failure: { kind: 'stale', revision: before.revision, newer: { id } } })
    value(await call('description.remove', which(id)))
    expect(readdirSync(beside('descriptions')).filter((name) => name.startsWith(id))).toEqual([])
  })

  it('starts from a copy of a profile, under an id of its own', async () => {
    const id = await begin('Two pairs, ours', { copyOf: 'two-pairs-float32-locked' })
    expect(draft(id)).toMatchObject({ draft: { id: 'two-pairs-ours', scaling: { model: 'two-pairs' } }, problems: [] })
    expect(await call('description.start', { name: 'x', copyOf: 'nobody' })).toMatchObject({ ok: false, failure: { where: 'copyOf' } })
  })

  it('is told where the disk refuses, and keeps what it had', async () => {
    const id = await begin('Blocked')
    const held = draft(id)
    // A folder where the file that is written first would stand.
    mkdirSync(beside('descriptions', `${id}.description.json.next`))
    expect(await call('description.edit', { ...which(id), change: { about: 'lost' } })).toMatchObject({
      ok: false,
      failure: { kind: 'refused-request', why: expect.stringContaining('Not kept') },
    })
    expect(draft(id)).toEqual(held)
  })
})

describe('registers from a table', () => {
  const heading = 'name;channel;table;address;type;order;decimals;unit;access;role;kept;page\n'
  const row = 'scale.lower.signal;1;holding;40;i32;CDAB;5;mV/V;read-write;setting;at-once;31\n'

  it('come in all or none, with what is wrong by row', async () => {
    const id = await begin('From the manual')
    const bad = value(await call('description.import-table', { ...which(id), sheet: heading + row + row.replace('40;i32', '41;i33') }))
    expect(bad).toMatchObject({ added: 0, errors: [{ row: 3, column: 'type' }] })
    expect(draft(id).draft.registers).toEqual([])
    expect(value(await call('description.import-table', { ...which(id), sheet: heading + row }))).toMatchObject({ added: 1, errors: [] })
    expect(draft(id).draft.registers).toMatchObject([{ name: 'scale.lower.signal', evidence: 'manual', page: '31' }])
  })

  it('stand beside what was found already', async () => {
    const id = await begin('Both')
    value(await call('description.name-found', { ...which(id), found: { ...reading, shape: { ...reading.shape, address: 41 } } }))
    const clash = value(await call('description.import-table', { ...which(id), sheet: heading + row }))
    expect(clash).toMatchObject({ added: 0, errors: [{ row: 2, column: 'address', message: expect.stringContaining('live.reading@1') }] })
  })
})

describe('a profile file', () => {
  it('is exported as text and comes in again, in place of one only where that is said', async () => {
    const { text, file } = value(await call('profile.export', { profileId: 'two-pairs-float32-locked' }))
    expect(file).toBe('two-pairs-float32-locked.profile.json')
    expect(await call('profile.import', { text, replace: false })).toMatchObject({ ok: false, failure: { where: 'id' } })
    const ours = text.replace('"two-pairs-float32-locked"', '"from-a-colleague"')
    expect(value(await call('profile.import', { text: ours, replace: false }))).toMatchObject({ profileId: 'from-a-colleague' })
    expect(await call('profile.import', { text: ours, replace: false })).toMatchObject({ ok: false })
    expect(await call('profile.import', { text: ours, replace: true })).toMatchObject({ ok: true })
  })

  it('that is wrong is refused with the path of what is wrong', async () => {
    expect(await call('profile.import', { text: '{"schema": 1', replace: false })).toMatchObject({
      ok: false,
      failure: { kind: 'unfit', problems: [{ path: '(file)', message: expect.stringContaining('line 1') }] },
    })
    const { text } = value(await call('profile.export', { profileId: 'two-pairs-float32-locked' }))
    const wrong = text.replace('"two-pairs-float32-locked"', '"x"').replace('"longestRead": ', '"longestRead": 9')
    expect(await call('profile.import', { text: wrong, replace: false })).toMatchObject({
      ok: false,
      failure: { problems: [{ path: 'requests.longestRead' }] },
    })
  })
})
