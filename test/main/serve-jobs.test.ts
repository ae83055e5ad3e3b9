import { chmodSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { type HostMessage, pulseMs } from '../../app/contract/contract.ts'
import { blankJob } from '../../app/job/blank-job.ts'
import { createJob, openJobStore, readJob } from '../../main/files/job-store.ts'
import { recentJobs } from '../../main/files/recent-jobs.ts'
import { journalFolder } from '../../main/files/write-journal.ts'
import type { Host } from '../../main/host/host.ts'
import type { HostEvent } from '../../main/host/topics.ts'
import { openHost } from '../../main/open-host.ts'
import { practiceJob } from '../../main/practice/practice-job.ts'
import { serveRenderer } from '../../main/serve.ts'
import { value } from '../builders/practice-host.ts'
import { topicSeen } from '../builders/topic-seen.ts'
import { unprivileged } from '../builders/unprivileged.ts'

let top: string
let host: Host
const jobs = () => join(top, 'jobs')
const at = (name: string) => join(jobs(), `${name}.job.json`)
const session = () => host.topics.get('session')
const refused = (why: string) => ({ ok: false, failure: { kind: 'refused-request', why: expect.stringContaining(why) } })

async function openIn(folder: string, jobPath = join(folder, 'practice.job.json')): Promise<Host> {
  const opened = await openHost({
    jobPath,
    shell: 'browser',
    address: 'test',
    practice: true,
    listenMs: 0,
    userFolder: folder,
    jobsFolder: join(folder, 'jobs'),
  })
  return value(opened).host
}

beforeEach(async () => {
  top = mkdtempSync(join(tmpdir(), 'spanwright-serve-'))
  host = await openIn(top)
})
afterEach(() => host.close())

const newMill = () => host.call('job.new', { path: 'mill', name: 'Mill 4', site: 'South', decimalSign: ',', simulated: false })

describe('one host, one job at a time', () => {
  it('leaves practice for a new job: buses closed, recording ended, lock given back, everything told afresh', async () => {
    await host.call('visit.start', { by: 'A. Tester' })
    await host.start()
    const { files } = value(await host.call('record.start', { pointIds: ['wt-101'] }))
    expect(session()).toMatchObject({ practice: true, by: 'A. Tester' })
    const told: HostEvent[] = []
    host.topics.subscribe((message) => told.push(message))

    expect(await newMill()).toEqual({ ok: true, value: { path: at('mill'), name: 'Mill 4', simulated: false } })

    expect(session()).toMatchObject({ practice: false, jobPath: at('mill'), visitId: null, by: '' })
    expect(host.topics.get('job')).toMatchObject({ name: 'Mill 4', points: [], simulated: false })
    expect(host.topics.get('bus', 'bus-1')).toBeUndefined()
    const begins = told.findIndex((m) => m.kind === 'afresh')
    expect(told[begins]).toMatchObject({ topics: expect.arrayContaining(['job', 'session']) })
    // Nothing of a bus, indicator or point of the job before.
    expect(told.slice(begins).filter((m) => m.kind === 'topic' && m.key !== undefined)).toEqual([])
    expect(existsSync(join(top, 'practice.job', 'lock'))).toBe(false)
    expect(readFileSync(join(top, 'practice.job', 'recordings', files[0] ?? ''), 'utf8')).toContain('\nended,')
    expect(await host.call('practice.load', { pointId: 'wt-101', load: '1' })).toMatchObject({ ok: false })
  })

  it('comes back to practice, and lists both jobs, newest first; one that is gone is shown as missing', async () => {
    value(await newMill())
    value(await host.call('job.open-practice', {}))
    expect(session()).toMatchObject({ practice: true })
    const listed = value(await host.call('jobs.recent', {}))
    expect(listed.folder).toBe(jobs())
    expect(listed.jobs.map((j) => [j.name, j.state])).toEqual([
      ['Feed mill, line 2', 'there'],
      ['Mill 4', 'there'],
    ])
    const { rmSync } = await import('node:fs')
    rmSync(at('mill'))
    expect(value(await host.call('jobs.recent', {})).jobs[1]).toMatchObject({ name: 'Mill 4', state: 'missing' })
    expect(await host.call('job.open', { path: 'mill' })).toMatchObject(refused('no such file'))
    value(await host.call('jobs.forget', { path: at('mill') }))
    expect(value(await host.call('jobs.recent', {})).jobs).toHaveLength(1)
  })

  it('stays where it is when the other job cannot be opened, and says why', async () => {
    const bad = async (text: string) => {
      writeFileSync(at('bad'), text)
      return host.call('job.open', { path: at('bad') })
    }
    mkdirSync(jobs())
    const before = session()
    expect(await bad('{"schema": 1, "na')).toMatchObject(refused('not whole JSON'))
    expect(await bad(JSON.stringify({ ...practiceJob(), schema: 2 }))).toMatchObject(refused('newer Spanwright'))
    const wrong = { ...practiceJob(), buses: [{ ...practiceJob().buses[0], link: { kind: 'pigeon' } }] }
    expect(await bad(JSON.stringify(wrong))).toMatchObject({ failure: { where: expect.stringContaining('buses.0.link') } })

    createJob(at('held'), blankJob('held', { name: 'Held', site: '', decimalSign: '.', simulated: false }))
    const other = value(openJobStore(at('held'), { address: 'window of B. Other', since: '2026-11-25T10:00:00Z' }))
    expect(await host.call('job.open', { path: 'held' })).toMatchObject(refused('window of B. Other'))
    other.close()

    expect(session()).toEqual(before)
    expect(await host.call('job.edit', { revision: 0, change: { site: 'still served' } })).toMatchObject({ ok: true })
    expect(value(await host.call('job.open', { path: 'held' }))).toMatchObject({ name: 'Held' })
  })

  it('does not open the job that is open, under whichever name', async () => {
    symlinkSync(join(top, 'practice.job.json'), join(top, 'alias.job.json'))
    expect(await host.call('job.open', { path: join(top, 'alias.job.json') })).toMatchObject(refused('open here already'))
  })

  it('keeps sending halted across the change of job', async () => {
    value(await newMill())
    value(await host.call('sending.stop', {}))
    value(await host.call('job.open-practice', {}))
    expect(session()).toMatchObject({ stopped: true })
    await host.start()
    expect(host.topics.get('bus', 'bus-1')).toMatchObject({ state: 'halted' })
    expect(host.topics.get('indicator', 'ind-1')).toMatchObject({ held: null })
  })

  it('serves no call that was meant for the job before', async () => {
    const sent: HostMessage[] = []
    let receive: (message: unknown) => void = () => {}
    serveRenderer(host, {
      send: (m) => sent.push(m),
      onMessage: (l) => {
        receive = l
      },
      onClose: () => {},
    })
    const [first] = sent
    const serving = first?.kind === 'afresh' ? first.serving : ''
    value(await newMill())
    receive({ kind: 'call', call: 7, name: 'job.edit', serving, request: { revision: 0, change: { name: 'meant for practice' } } })
    receive({ kind: 'call', call: 8, name: 'sending.stop', serving, request: {} })
    await new Promise((done) => setImmediate(done))
    expect(sent).toContainEqual({ kind: 'rejected', call: 7, why: expect.stringContaining('Another job') })
    expect(host.topics.get('job')).toMatchObject({ name: 'Mill 4', revision: 0 })
    expect(session()).toMatchObject({ stopped: true })
  })
})

it('sends its pulse to a page for as long as that is there', () => {
  vi.useFakeTimers()
  try {
    let pulses = 0
    let leave = () => {}
    serveRenderer(host, {
      send: (m) => {
        if (m.kind === 'pulse') pulses += 1
      },
      onMessage: () => {},
      onClose: (l) => {
        leave = l
      },
    })
    vi.advanceTimersByTime(3 * pulseMs)
    expect(pulses).toBe(3)
    leave()
    vi.advanceTimersByTime(3 * pulseMs)
    expect(pulses).toBe(3)
  } finally {
    vi.useRealTimers()
  }
})

describe('is not left', () => {
  const begun = (outcome: 'open' | 'left') => {
    const journal = journalFolder(join(top, 'practice.job', 'journal'))
    const common = { at: '2026-11-25T10:00:00Z', by: 'A. Tester', indicatorId: 'ind-1', unit: 1, profileId: 'two-pairs-float32-locked' }
    const log = value(journal.begin({ kind: 'begin', ...common, before: { at: common.at, values: {} }, wanted: [] }))
    if (outcome === 'left') log.note({ kind: 'end', at: common.at, outcome })
    log.close()
  }

  it.each(['open', 'left'] as const)('while an interrupted write is open (%s)', async (outcome) => {
    await host.close()
    begun(outcome)
    host = await openIn(top)
    const answer = await newMill()
    if (outcome === 'left') return expect(answer).toMatchObject({ ok: true })
    expect(answer).toMatchObject(refused('Hopper A transmitter was interrupted'))
    expect(existsSync(at('mill'))).toBe(false)
    expect(session()).toMatchObject({ practice: true })
  })

  it('while a write is under way', async () => {
    await host.call('visit.start', { by: 'A. Tester' })
    await host.start()
    const intended = { 'filter.time@1': '0.50' }
    value(await host.call('point.intend', { pointId: 'wt-101', revision: host.topics.get('job')?.revision ?? 0, values: intended }))
    const preview = value(await host.call('settings.preview', { indicatorId: 'ind-1' }))
    const writing = host.call('settings.write', { previewId: preview.previewId })
    expect(await newMill()).toMatchObject(refused('under way'))
    expect(await writing).toMatchObject({ ok: true })
    expect(await newMill()).toMatchObject({ ok: true })
  })
})

describe('copies', () => {
  it('save-as takes everything along, goes on with the copy and leaves the first as it was', async () => {
    await host.call('visit.start', { by: 'A. Tester' })
    const first = readFileSync(join(top, 'practice.job.json'), 'utf8')
    expect(value(await host.call('job.save-as', { path: 'copy' }))).toMatchObject({ path: at('copy'), simulated: true })
    expect(readFileSync(at('copy'), 'utf8')).toBe(first)
    value(await host.call('job.edit', { revision: 1, change: { name: 'Copy' } }))
    expect(readFileSync(join(top, 'practice.job.json'), 'utf8')).toBe(first)
    expect(readdirSync(join(jobs(), 'copy.job')).sort()).toEqual(['earlier', 'journal', 'lock'])
    expect(await host.call('job.save-as', { path: 'copy' })).toMatchObject(refused('already'))
  })

  it('that take long show how far they are, one at a time, and can be cancelled', async () => {
    const recordings = join(top, 'practice.job', 'recordings')
    mkdirSync(recordings, { recursive: true })
    for (const n of [1, 2, 3]) writeFileSync(join(recordings, `${n}.csv`), 'x'.repeat(1_000_000))
    for (const ask of [() => host.call('job.save-as', { path: 'copy' }), () => host.call('job.bundle', { to: join(jobs(), 'copy.zip') })]) {
      mkdirSync(jobs(), { recursive: true })
      const asked = ask()
      expect((await topicSeen(host, 'fileWork', undefined, (v) => v.running !== null)).running).toMatchObject({ of: 3_000_000 })
      expect(await host.call('job.bundle', { to: join(top, 'other.zip') })).toMatchObject(refused('Another copy is being made'))
      value(await host.call('job.cancel-copying', {}))
      expect(await asked).toMatchObject(refused('It was cancelled'))
      expect(readdirSync(jobs())).toEqual([])
    }
    expect(session()).toMatchObject({ jobPath: join(top, 'practice.job.json') })
    expect(await host.call('job.cancel-copying', {})).toMatchObject(refused('Nothing is being copied'))
    value(await host.call('job.save-as', { path: 'copy' }))
    expect(readdirSync(join(jobs(), 'copy.job', 'recordings'))).toEqual(['1.csv', '2.csv', '3.csv'])
  })

  it('duplicate keeps what was decided and no evidence', async () => {
    await host.call('visit.start', { by: 'A. Tester' })
    value(await host.call('point.intend', { pointId: 'wt-101', revision: 1, values: { 'filter.time@1': '0.50' } }))
    value(await host.call('job.duplicate', { path: 'twin', name: 'Line 3' }))
    const twin = value(readJob(at('twin')))
    expect(twin).toMatchObject({ name: 'Line 3', revision: 0, visits: [], points: [{ tag: 'WT-101', intended: {} }, {}, {}, {}, {}] })
    expect(twin.id).not.toBe('practice-feed-mill')
    expect(session()).toMatchObject({ jobPath: join(top, 'practice.job.json') })
  })

  it('a bundle opens into a folder, and a dropped one in parts; what is too much or cut short is refused', async () => {
    const zip = join(top, 'hand-on.zip')
    value(await host.call('job.bundle', { to: zip }))
    const into = join(top, 'elsewhere')
    expect(value(await host.call('job.open-bundle', { path: zip, into }))).toMatchObject({ path: join(into, 'practice.job.json') })

    const bytes = readFileSync(zip)
    const begin = (name: string, size: number) => host.call('import.begin', { name, bytes: size })
    const part = (importId: string, from: number, to?: number) =>
      host.call('import.part', { importId, base64: bytes.subarray(from, to).toString('base64') })
    expect(await begin('../x.zip', 10)).toMatchObject(refused('bundle'))
    expect(await begin('picture.png', 10)).toMatchObject(refused('bundle'))

    const short = value(await begin('b.zip', bytes.length)).importId
    value(await part(short, 0, 400))
    expect(await host.call('import.end', { importId: short })).toMatchObject(refused('Only 400'))
    const long = value(await begin('b.zip', 399)).importId
    expect(await part(short, 0, 400)).toMatchObject(refused('over'))
    expect(await part(long, 0, 400)).toMatchObject(refused('More than the 399'))

    const { importId } = value(await begin('b.zip', bytes.length))
    value(await part(importId, 0, 401))
    expect(value(await part(importId, 401))).toEqual({ received: bytes.length })
    expect(value(await host.call('import.end', { importId }))).toMatchObject({ path: at('practice') })
    expect(session()).toMatchObject({ jobPath: at('practice') })
    expect(await host.callUntrusted('import.begin', { name: 'b.zip', bytes: 3_000_000_000 })).toMatchObject({ ok: false })
  })

  it('a dropped job file stands by itself among the jobs', async () => {
    const text = Buffer.from(JSON.stringify({ ...practiceJob(), simulated: false, buses: [], indicators: [], points: [] }))
    const { importId } = value(await host.call('import.begin', { name: 'old.job.json', bytes: text.length }))
    value(await host.call('import.part', { importId, base64: text.toString('base64') }))
    expect(value(await host.call('import.end', { importId }))).toMatchObject({ path: at('old'), simulated: false })
  })

  it('says so where the folder cannot be written to or the disk is full, and stays where it is', async () => {
    mkdirSync(jobs())
    chmodSync(jobs(), 0o555)
    const [fresh, copy] = [newMill, () => host.call('job.save-as', { path: 'copy' })].map((call) => unprivileged(call))
    expect(await fresh).toMatchObject(refused('cannot be written'))
    expect(await copy).toMatchObject({ ok: false })
    chmodSync(jobs(), 0o755)
    if (existsSync('/dev/full')) {
      symlinkSync('/dev/full', `${at('copy')}.next`)
      expect(await host.call('job.save-as', { path: 'copy' })).toMatchObject(refused('disk is full'))
    }
    expect(readdirSync(jobs())).toEqual([])
    expect(session()).toMatchObject({ practice: true, jobPath: join(top, 'practice.job.json') })
  })

  it('shows what there is to choose from in a folder', async () => {
    value(await newMill())
    mkdirSync(join(jobs(), 'Site B'))
    const seen = value(await host.call('folder.look', {}))
    expect(seen).toEqual({
      folder: jobs(),
      parent: top,
      folders: [{ name: 'Site B', path: join(jobs(), 'Site B') }],
      jobs: [{ name: 'mill.job.json', path: at('mill') }],
      bundles: [],
    })
    expect(await host.call('folder.look', { path: join(top, 'none') })).toMatchObject(refused('no such'))
  })
})

describe('list of recent jobs', () => {
  it('counts as empty where its file is broken, and is no reason to refuse a job', () => {
    const path = join(top, 'list', 'recent.json')
    const entry = { path: '/a.job.json', name: 'A', site: '', simulated: false, openedAt: '2026-11-25T10:00:00Z' }
    expect(recentJobs(path).note(entry)).toEqual({ ok: true, value: null })
    writeFileSync(path, '[{"path":')
    expect(recentJobs(path).list()).toEqual([])
    chmodSync(join(top, 'list'), 0o555)
    expect(unprivileged(() => recentJobs(path).note(entry))).toMatchObject({ ok: false, failure: expect.stringContaining('not kept') })
  })

  it('keeps twenty, each once', () => {
    const list = recentJobs(join(top, 'twenty.json'))
    for (let n = 0; n < 25; n++)
      list.note({ path: `/${n % 22}.job.json`, name: String(n), site: '', simulated: false, openedAt: '2026-11-25T10:00:00Z' })
    expect(list.list().map((j) => j.name)).toEqual(Array.from({ length: 20 }, (_, i) => String(24 - i)))
  })
})
