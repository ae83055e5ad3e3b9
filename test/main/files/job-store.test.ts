import { chmodSync, existsSync, mkdtempSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { createJob, openJobStore, readJob } from '../../../main/files/job-store.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { unprivileged } from '../../builders/unprivileged.ts'

const me = { address: 'test', since: '2026-11-25T10:00:00Z' }
const place = () => join(mkdtempSync(join(tmpdir(), 'spanwright-job-')), 'mill.job.json')

function opened(path = place()) {
  expect(createJob(path, practiceJob())).toEqual({ ok: true, value: null })
  const store = openJobStore(path, me)
  if (!store.ok) throw new Error(store.failure.why)
  return store.value
}

describe('job file', () => {
  it('is saved whole with a rising revision, and the version before it is kept', () => {
    const store = opened()
    expect(store.save((job) => ({ ...job, name: 'Mill 3' })).ok).toBe(true)
    expect(readJob(store.path)).toMatchObject({ ok: true, value: { name: 'Mill 3', revision: 1 } })
    const earlier = join(store.path.replace(/\.json$/, ''), 'earlier')
    expect(existsSync(earlier)).toBe(true)
    store.close()
  })

  it('refuses what does not fit the schema and keeps the saved version', () => {
    const store = opened()
    const before = readFileSync(store.path, 'utf8')
    const saved = store.save((job) => ({ ...job, points: job.points.map((p) => ({ ...p, maximumLoad: 'heavy' })) }))
    expect(saved).toMatchObject({ ok: false, failure: { where: 'points.0.maximumLoad' } })
    expect(readFileSync(store.path, 'utf8')).toBe(before)
    store.close()
  })

  it('belongs to one host: a second is refused with the owner named, and admitted after the first has closed', () => {
    const path = place()
    const store = opened(path)
    expect(openJobStore(path, me)).toMatchObject({ ok: false, failure: { why: expect.stringContaining(`process ${process.pid}`) } })
    store.close()
    const second = openJobStore(path, me)
    expect(second.ok).toBe(true)
    if (second.ok) second.value.close()
  })

  it('takes over the lock of a process that is gone', () => {
    const path = place()
    opened(path).close()
    const lock = join(path.replace(/\.json$/, ''), 'lock')
    const owner = JSON.parse(readFileSync(lockedBy(path, lock), 'utf8'))
    writeFileSync(lock, JSON.stringify({ ...owner, process: 4_000_000 }))
    const second = openJobStore(path, me)
    expect(second.ok).toBe(true)
    if (second.ok) second.value.close()
  })

  it('says what is wrong and where in a truncated, a newer and a misshapen file', () => {
    const path = place()
    writeFileSync(path, JSON.stringify(practiceJob()).slice(0, 200))
    expect(readJob(path)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('not whole JSON') } })
    writeFileSync(path, JSON.stringify({ ...practiceJob(), schema: 2 }))
    expect(readJob(path)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('newer') } })
    writeFileSync(path, JSON.stringify({ ...practiceJob(), decimalSign: ';' }))
    expect(readJob(path)).toMatchObject({ ok: false, failure: { where: expect.stringContaining('decimalSign') } })
    expect(readJob(`${path}.none`)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('no such file') } })
  })

  it('says so when the folder cannot be written to, and keeps what was saved', () => {
    const store = opened()
    const folder = join(store.path, '..')
    const before = readFileSync(store.path, 'utf8')
    chmodSync(folder, 0o555)
    const saved = unprivileged(() => store.save((job) => ({ ...job, name: 'Other' })))
    chmodSync(folder, 0o755)
    expect(saved).toMatchObject({ ok: false, failure: { why: expect.stringContaining('cannot be written') } })
    expect(readFileSync(store.path, 'utf8')).toBe(before)
    store.close()
  })

  it.runIf(existsSync('/dev/full'))('says so when the disk is full, and keeps what was saved', () => {
    const store = opened()
    const before = readFileSync(store.path, 'utf8')
    symlinkSync('/dev/full', `${store.path}.next`)
    expect(store.save((job) => ({ ...job, name: 'Other' }))).toMatchObject({
      ok: false,
      failure: { why: expect.stringContaining('disk is full') },
    })
    expect(readFileSync(store.path, 'utf8')).toBe(before)
    expect(store.save((job) => ({ ...job, name: 'Again' }))).toMatchObject({ ok: true })
    store.close()
  })
})

/** Opens once more just to have a lock file to copy. */
function lockedBy(path: string, lock: string): string {
  const store = openJobStore(path, me)
  if (!store.ok) throw new Error(store.failure.why)
  const copy = `${lock}.copy`
  writeFileSync(copy, readFileSync(lock))
  store.value.close()
  return copy
}
