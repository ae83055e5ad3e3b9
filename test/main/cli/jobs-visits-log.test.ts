import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeEach, describe, expect, it } from 'vitest'
import type { Job, SettingsImage } from '../../../app/job/schema.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { fitting, spanwright } from '../../builders/command-line.ts'

let folder: string
const at = (name: string) => join(folder, name)
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'spanwright-jobs-cli-'))
})
const job = (name: string) => JSON.parse(readFileSync(at(name), 'utf8')) as Job

describe('jobs as files', () => {
  it('new, duplicate, bundle and open-bundle; nothing is overwritten', async () => {
    const made = await spanwright('job', 'new', at('mill.job.json'), '--name', 'Mill 4', '--decimal-sign', ',', '--json')
    expect([made.code, fitting('job-new', made.out)]).toEqual([0, { ok: true, path: at('mill.job.json') }])
    expect(job('mill.job.json')).toMatchObject({ name: 'Mill 4', decimalSign: ',', simulated: false, points: [] })
    const again = await spanwright('job', 'new', at('mill.job.json'), '--name', 'Other')
    expect([again.code, again.err]).toEqual([1, expect.stringContaining('already')])
    expect((await spanwright('job', 'new', at('mill'), '--name', 'Other')).code).toBe(2)

    writeFileSync(at('a.job.json'), JSON.stringify(practiceJob()))
    const twin = await spanwright('job', 'duplicate', at('a.job.json'), at('b.job.json'), '--name', 'Line 3', '--json')
    expect(twin.code).toBe(0)
    expect(job('b.job.json')).toMatchObject({ name: 'Line 3', points: [{ tag: 'WT-101' }, {}, {}, {}, {}] })

    const packed = await spanwright('job', 'bundle', at('b.job.json'), at('b.zip'), '--json')
    expect(fitting('job-bundle', packed.out)).toMatchObject({ files: 1 })
    mkdirSync(at('elsewhere'))
    const opened = await spanwright('job', 'open-bundle', at('b.zip'), '--into', at('elsewhere'), '--json')
    expect(fitting('job-open-bundle', opened.out)).toEqual({ ok: true, path: at('elsewhere/b.job.json'), name: 'Line 3' })
    expect((await spanwright('job', 'open-bundle', at('b.zip'), '--into', at('elsewhere'))).code).toBe(1)
    expect((await spanwright('job', 'versions', at('b.job.json'))).out).toContain('None')
  }, 60_000)
})

describe('a new job on the practice bench', () => {
  it('is simulated and empty; a unit of the bench that is put into it answers, one of a job without the bench does not', async () => {
    const { buses, indicators, points } = practiceJob()
    const with101 = (name: string) =>
      writeFileSync(at(name), JSON.stringify({ ...job(name), buses, indicators: indicators.slice(0, 1), points: points.slice(0, 1) }))
    const made = await spanwright('job', 'new', at('try.job.json'), '--name', 'Try', '--practice', '--json')
    expect([made.code, fitting('job-new', made.out)]).toEqual([0, { ok: true, path: at('try.job.json') }])
    expect(job('try.job.json')).toMatchObject({ name: 'Try', simulated: true, buses: [], indicators: [], points: [] })
    with101('try.job.json')
    const asked = await spanwright('identify', '--job', at('try.job.json'), '--json')
    expect(asked.code, asked.err).toBe(0)
    expect(fitting('identify', asked.out)).toMatchObject({ indicator: { id: 'ind-1' }, identity: { outcome: 'confirmed' } })

    expect((await spanwright('job', 'new', at('real.job.json'), '--name', 'Real')).code).toBe(0)
    with101('real.job.json')
    const unasked = await spanwright('identify', '--job', at('real.job.json'))
    expect([unasked.code, unasked.err]).toEqual([1, expect.stringContaining('practice bench, which is not running')])
  }, 60_000)
})

describe('visits and log', () => {
  const image = (value: string): SettingsImage => ({
    at: '2026-11-25T09:00:00Z',
    values: { 'filter.time@1': { words: [Number(value) * 100], value } },
  })
  const visits = (found: string): Job['visits'] => [
    { id: 'v1', startedAt: '2025-11-25T09:00:00Z', by: 'A. Tester', found: {}, left: { 'ind-1': image('0.2') }, checks: [] },
    { id: 'v2', startedAt: '2026-11-25T09:00:00Z', by: 'B. Next', found: { 'ind-1': image(found) }, left: {}, checks: [] },
  ]
  const withVisits = (found: string) => writeFileSync(at('a.job.json'), JSON.stringify({ ...practiceJob(), visits: visits(found) }))

  it('lists visits, and ends with 3 where something has moved since', async () => {
    withVisits('0.2')
    const listed = await spanwright('visits', 'list', '--job', at('a.job.json'), '--json')
    expect(fitting('visits-list', listed.out)).toMatchObject({ visits: [{ visitId: 'v2', indicators: 1 }, { visitId: 'v1' }] })
    expect((await spanwright('visits', 'compare', '--job', at('a.job.json'))).code).toBe(0)
    withVisits('0.5')
    const moved = await spanwright('visits', 'compare', '--job', at('a.job.json'), '--json')
    expect(moved.code).toBe(3)
    expect(fitting('visits-compare', moved.out)).toMatchObject({
      later: { by: 'B. Next' },
      indicators: [{ moved: [{ key: 'filter.time@1', held: '0.2', intended: '0.5' }] }, {}, {}, {}],
    })
    expect((await spanwright('visits', 'compare', '--job', at('a.job.json'), '--later', 'v1')).err).toContain('first visit')
  }, 60_000)

  it('prints what was written and what failed, and says which lines cannot be read', async () => {
    withVisits('0.2')
    mkdirSync(at('a.job'))
    const head = { at: '2026-11-25T10:00:00Z', by: 'B. Next', indicatorId: 'ind-1', unit: 1 }
    const receipt = { written: [{ key: 'filter.time@1', held: '0.20', intended: '0.50', unit: 's' }], alsoMoved: [], saved: true }
    const failure = {
      kind: 'failed',
      because: { kind: 'read-back-differs', key: 'filter.time@1', wanted: '0.90', got: '0.50' },
      during: 'reading-back',
      end: 'restored',
      parameters: [{ key: 'filter.time@1', wanted: '0.90', before: '0.50', now: { value: '0.50' } }],
    }
    const lines = [
      { ...head, journalId: 'j1', result: { ok: true, value: receipt } },
      { ...head, at: '2026-11-25T11:00:00Z', journalId: 'j2', result: { ok: false, failure } },
      { ...head, by: '', at: '2026-11-25T12:00:00Z', command: 'zero', channel: 1, result: { ok: true, value: null } },
    ]
    writeFileSync(at('a.job/log.jsonl'), `${lines.map((l) => JSON.stringify(l)).join('\n')}\n{"at":`)
    const log = await spanwright('log', '--job', at('a.job.json'), '--point', 'WT-101', '--json')
    expect(fitting('log', log.out)).toMatchObject({
      unreadable: 1,
      entries: [
        { kind: 'command', command: 'zero', result: 'done' },
        {
          result: 'restored',
          why: 'filter.time@1 reads back 0.50 instead of 0.90.',
          values: [{ old: '0.50', new: '0.90', now: { value: '0.50' } }],
        },
        { result: 'written', values: [{ old: '0.20', new: '0.50', unit: 's' }] },
      ],
    })
    const text = await spanwright('log', '--job', at('a.job.json'))
    expect(text.out).toContain('0.20 → 0.50 s')
    expect(text.out).toContain('2026-11-25T12:00:00Z  not named  ')
    expect(text.out).toContain('1 line of the log cannot be read')
    expect((await spanwright('log', '--job', at('a.job.json'), '--point', 'WT-102')).out).toContain('Nothing has been written')
    expect((await spanwright('log', '--job', at('a.job.json'), '--point', 'nobody')).code).toBe(2)
  }, 60_000)
})
