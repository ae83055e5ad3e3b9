import { randomBytes } from 'node:crypto'
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { zipSync } from 'fflate'
import { describe, expect, it } from 'vitest'
import { bundleLimits, openBundle } from '../../../main/files/bundle.ts'
import { createJob, openJobStore, readJob } from '../../../main/files/job-store.ts'
import { writeBundle } from '../../../main/files/write-bundle.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { unprivilegedUntil } from '../../builders/unprivileged.ts'

const folder = () => mkdtempSync(join(tmpdir(), 'spanwright-bundle-'))
const bytes = (text: string) => new TextEncoder().encode(text)
const sound = () => JSON.stringify(practiceJob())

/** A job with a saved change, a log and a recording beside it, still held by its host. */
async function packed() {
  const from = folder()
  const path = join(from, 'mill.job.json')
  createJob(path, practiceJob())
  const store = openJobStore(path, { address: 'test', since: '2026-11-25T10:00:00Z' })
  if (!store.ok) throw new Error(store.failure.why)
  store.value.save((job) => ({ ...job, name: 'Mill 3' }))
  store.value.log({ what: 'written' })
  writeFileSync(join(from, 'mill.job', 'half.next'), 'x')
  symlinkSync('/etc/hostname', join(from, 'mill.job', 'elsewhere'))
  const zip = join(from, 'mill.zip')
  const written = await writeBundle(path, zip)
  store.value.close()
  return { from, path, zip, written }
}

function zipOf(files: Record<string, string>): string {
  const path = join(folder(), 'b.zip')
  writeFileSync(path, zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, bytes(text)]))))
  return path
}

const whyRefused = async (zip: string, into = folder(), limits = bundleLimits) => {
  const opened = await openBundle(zip, into, limits)
  expect(readdirSync(into)).toEqual([])
  return opened.ok ? 'opened' : `${opened.failure.why} ${opened.failure.where}`
}

describe('bundle', () => {
  it('carries the job and what stands beside it, without lock, half-written files and links', async () => {
    const { zip, written } = await packed()
    expect(written).toMatchObject({ ok: true })
    const into = folder()
    const opened = await openBundle(zip, into)
    expect(opened).toMatchObject({ ok: true, value: { path: join(into, 'mill.job.json'), job: { name: 'Mill 3', revision: 1 } } })
    expect(readJob(join(into, 'mill.job.json'))).toMatchObject({ ok: true })
    expect(readdirSync(join(into, 'mill.job')).sort()).toEqual(['earlier', 'log.jsonl'])
    expect(readFileSync(join(into, 'mill.job', 'log.jsonl'), 'utf8')).toBe('{"what":"written"}\n')
  })

  it('overwrites nothing, neither a bundle nor a job nor a folder', async () => {
    const { from, path, zip } = await packed()
    const before = readFileSync(zip)
    expect(await writeBundle(path, zip)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('already') } })
    expect(readFileSync(zip)).toEqual(before)
    expect(await openBundle(zip, from)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('already') } })
    const into = folder()
    mkdirSync(join(into, 'mill.job'))
    expect(await openBundle(zip, into)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('already') } })
    expect(readdirSync(into)).toEqual(['mill.job'])
  })

  it.each([
    '../evil.txt',
    'm.job/../../evil.txt',
    '/evil.txt',
    'm.job/..\\evil.txt',
    'm.job/C:evil.txt',
    'm.job//evil.txt',
    'm.job/trailing.',
    'other/evil.txt',
    'second.job.json',
  ])('refuses a way out of the folder: %s', async (name) => {
    expect(await whyRefused(zipOf({ 'm.job.json': sound(), [name]: 'x' }))).toContain('belongs to no job')
  })

  it.each([
    ['no job', { 'readme.txt': 'x' }, 'no job in this archive'],
    ['a job below the top', { 'a/m.job.json': sound() }, 'no job in this archive'],
    ['a job named as a drive', { 'C:m.job.json': sound() }, 'no job in this archive'],
    ['a newer schema', { 'm.job.json': JSON.stringify({ ...practiceJob(), schema: 2 }) }, 'newer'],
    ['a job cut short', { 'm.job.json': sound().slice(0, 99) }, 'not whole JSON'],
    ['a misshapen job', { 'm.job.json': JSON.stringify({ ...practiceJob(), points: 1 }) }, 'points'],
    ['one name twice', { 'm.job.json': sound(), 'm.job/a': '1', 'm.job/A': '2' }, 'twice'],
  ])('refuses %s', async (_what, files, why) => {
    expect(await whyRefused(zipOf(files))).toContain(why)
  })

  it('refuses what would unpack to too much, before unpacking it', async () => {
    const bomb = zipOf({ 'm.job.json': sound(), 'm.job/zeros': '0'.repeat(1_000_000) })
    expect(await whyRefused(bomb, folder(), { ...bundleLimits, oneFile: 100_000 })).toContain('1000000 bytes')
    expect(await whyRefused(bomb, folder(), { ...bundleLimits, allFiles: 100_000 })).toContain('too much')
    expect(await whyRefused(bomb, folder(), { ...bundleLimits, files: 1 })).toContain('at most 1')
    const { path } = await packed()
    const out = join(folder(), 'b.zip')
    expect(await writeBundle(path, out, { ...bundleLimits, allFiles: 10 })).toMatchObject({ ok: false })
    expect(existsSync(out)).toBe(false)
  })

  it('refuses a truncated, a damaged and a foreign file, wherever it is damaged', async () => {
    const { zip } = await packed()
    const whole = readFileSync(zip)
    const path = join(folder(), 'd.zip')
    for (const length of [0, 10, 100, whole.length - 30, whole.length - 1]) {
      writeFileSync(path, whole.subarray(0, length))
      expect(await whyRefused(path)).toContain('no bundle')
    }
    // A flipped byte in the packed job: past its local header and name.
    const flipped = Uint8Array.from(whole)
    flipped[200] = (flipped[200] ?? 0) ^ 0xff
    writeFileSync(path, flipped)
    expect(await whyRefused(path)).toContain('damaged')
    writeFileSync(path, 'Tag;Max')
    expect(await whyRefused(path)).toContain('no bundle')
    expect(await whyRefused(`${path}.none`)).toContain('no such file')
  })

  it('does not trust a size that the directory states wrongly', async () => {
    const path = zipOf({ 'm.job.json': sound() })
    const lying = readFileSync(path)
    const directory = lying.indexOf(Buffer.from([0x50, 0x4b, 0x01, 0x02]))
    lying.writeUInt32LE(100, directory + 24)
    writeFileSync(path, lying)
    expect(await whyRefused(path)).toContain('damaged')
  })

  it('refuses contents that are not what the directory says, also where they are not packed at all', async () => {
    const path = join(folder(), 'b.zip')
    const archive = Buffer.from(zipSync({ 'm.job.json': bytes(sound()), 'm.job/a.csv': bytes('12345') }, { level: 0 }))
    const flipped = Buffer.from(archive)
    flipped.write('9', archive.indexOf('12345'))
    writeFileSync(path, flipped)
    expect(await whyRefused(path)).toContain('damaged at m.job/a.csv')
    const longer = Buffer.from(archive)
    // the name in the directory stands 46 bytes after its header, the size unpacked 24 bytes (APPNOTE 6.3.10, 4.3.12)
    longer.writeUInt32LE(6, archive.lastIndexOf('m.job/a.csv') - 46 + 24)
    writeFileSync(path, longer)
    expect(await whyRefused(path)).toContain('damaged at m.job/a.csv')
  })

  it('leaves nothing behind in a folder that cannot be written to', async () => {
    const { path, zip } = await packed()
    chmodSync(zip, 0o644)
    const into = folder()
    chmodSync(into, 0o555)
    await unprivilegedUntil(async () => {
      expect(await whyRefused(zip, into)).toMatch(/cannot be (written|read)/)
      expect(await writeBundle(path, join(into, 'b.zip'))).toMatchObject({ ok: false })
    })
    expect(readdirSync(into)).toEqual([])
  })

  it.runIf(existsSync('/dev/full'))('leaves neither bundle nor half a job behind on a full disk', async () => {
    const { path, zip } = await packed()
    const full = (name: string) => symlinkSync('/dev/full', name)
    const into = folder()
    full(join(into, 'b.zip.next'))
    expect(await writeBundle(path, join(into, 'b.zip'))).toMatchObject({ ok: false, failure: { why: 'The disk is full.' } })
    expect(readdirSync(into)).toEqual([])
    full(join(into, 'mill.job.json.next'))
    expect(await openBundle(zip, into)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('disk is full') } })
    expect(readdirSync(into)).toEqual([])
    expect(await openBundle(zip, into)).toMatchObject({ ok: true })
  })

  it('that is cancelled while it is packed or unpacked leaves nothing behind, and the name stays free', async () => {
    const { from, path } = await packed()
    mkdirSync(join(from, 'mill.job', 'recordings'))
    writeFileSync(join(from, 'mill.job', 'recordings', '1.csv'), randomBytes(2_000_000))
    const into = folder()
    const stop = new AbortController()
    const seen: number[] = []
    const tell = (done: number, of: number) => {
      seen.push(done / of)
      stop.abort()
    }
    expect(await writeBundle(path, join(into, 'b.zip'), bundleLimits, { signal: stop.signal, tell })).toMatchObject({
      ok: false,
      failure: { why: 'It was cancelled. Nothing was left behind.' },
    })
    expect(seen).toHaveLength(1)
    expect(readdirSync(into)).toEqual([])
    expect(await writeBundle(path, join(into, 'b.zip'))).toMatchObject({ ok: true })
    const other = folder()
    expect(await openBundle(join(into, 'b.zip'), other)).toMatchObject({ ok: true })
    const halfway = new AbortController()
    const third = folder()
    const work = { signal: halfway.signal, tell: () => halfway.abort() }
    expect(await openBundle(join(into, 'b.zip'), third, bundleLimits, work)).toMatchObject({
      ok: false,
      failure: { why: 'Not done: It was cancelled. Nothing was left behind.' },
    })
    expect(readdirSync(third)).toEqual([])
    expect(readFileSync(join(other, 'mill.job', 'recordings', '1.csv'))).toEqual(
      readFileSync(join(from, 'mill.job', 'recordings', '1.csv')),
    )
  })

  it('is named as a zip file', async () => {
    const { path } = await packed()
    expect(await writeBundle(path, join(folder(), 'b.txt'))).toMatchObject({ ok: false, failure: { why: expect.stringContaining('.zip') } })
  })
})
