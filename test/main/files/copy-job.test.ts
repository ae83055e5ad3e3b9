import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { appendFileSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as delay } from 'node:timers/promises'
import { expect, it } from 'vitest'
import { copyJob } from '../../../main/files/copy-job.ts'
import { createJob, readJob } from '../../../main/files/job-store.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'

/** A job with enough beside it that a copy takes its time. */
function job(recordings: number): string {
  const path = join(mkdtempSync(join(tmpdir(), 'spanwright-copy-')), 'mill.job.json')
  createJob(path, practiceJob())
  const folder = join(path.replace(/\.json$/, ''), 'recordings')
  mkdirSync(folder, { recursive: true })
  for (let n = 0; n < recordings; n++) writeFileSync(join(folder, `${n}.csv`), String(n).repeat(20_000))
  writeFileSync(join(folder, '..', 'lock'), '{}')
  writeFileSync(join(folder, '..', 'half.next'), 'x')
  return path
}
const folder = () => mkdtempSync(join(tmpdir(), 'spanwright-copies-'))

it('copies all that belongs to a job, and not its lock', async () => {
  const from = job(2)
  const to = join(folder(), 'copy.job.json')
  expect(await copyJob(from, to)).toEqual({ ok: true, value: null })
  expect(readFileSync(to, 'utf8')).toBe(readFileSync(from, 'utf8'))
  expect(readdirSync(to.replace(/\.json$/, ''))).toEqual(['recordings'])
  expect(await copyJob(from, to)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('already') } })
  expect(await copyJob(`${from}.none`, join(folder(), 'x.job.json'))).toMatchObject({
    ok: false,
    failure: { why: expect.stringContaining('no such') },
  })
})

it('holds what changed while it was made, job and log alike', async () => {
  const from = job(2)
  const log = from.replace(/\.json$/, '/log.jsonl')
  writeFileSync(log, '1\n')
  const to = join(folder(), 'copy.job.json')
  const tell = () => {
    appendFileSync(log, '2\n')
    writeFileSync(from, JSON.stringify({ ...practiceJob(), name: 'Renamed' }))
  }
  expect(await copyJob(from, to, { signal: new AbortController().signal, tell })).toEqual({ ok: true, value: null })
  expect(readJob(to)).toMatchObject({ ok: true, value: { name: 'Renamed' } })
  expect(readFileSync(to.replace(/\.json$/, '/log.jsonl'), 'utf8')).toBe(readFileSync(log, 'utf8'))
})

it('that is cancelled, or cannot be any more at its end, leaves nothing behind, and the name stays free', async () => {
  const from = job(3)
  const into = folder()
  const to = join(into, 'copy.job.json')
  const stop = new AbortController()
  const seen: number[] = []
  const tell = (done: number, of: number) => {
    seen.push(done / of)
    stop.abort()
  }
  expect(await copyJob(from, to, { signal: stop.signal, tell })).toMatchObject({
    ok: false,
    failure: { why: 'Not done: It was cancelled. Nothing was left behind.' },
  })
  expect(seen).toEqual([1 / 3])
  expect(readdirSync(into)).toEqual([])
  expect(await copyJob(from, to, undefined, () => 'A write is under way.')).toMatchObject({
    ok: false,
    failure: { why: 'Not done: A write is under way. Nothing was left behind.' },
  })
  expect(readdirSync(into)).toEqual([])
  // as left by a process that was killed and had the number that this one has now
  mkdirSync(join(into, `copy.job.coming-${process.pid}`))
  writeFileSync(join(into, `copy.job.coming-${process.pid}`, 'half'), 'x')
  expect(await copyJob(from, to)).toEqual({ ok: true, value: null })
  expect(readdirSync(to.replace(/\.json$/, ''))).toEqual(['recordings'])
})

it('does not take the place of a job that was made meanwhile', async () => {
  const from = job(1)
  const into = folder()
  const to = join(into, 'copy.job.json')
  const tell = () => writeFileSync(to, 'another')
  expect(await copyJob(from, to, { signal: new AbortController().signal, tell })).toMatchObject({
    ok: false,
    failure: { why: expect.stringContaining('already') },
  })
  expect(readFileSync(to, 'utf8')).toBe('another')
  expect(readdirSync(into)).toEqual(['copy.job.json'])
})

it('killed in the middle leaves whole jobs only, and the next attempt at a name clears away what was left of it', async () => {
  const from = job(60)
  const into = folder()
  const program = join(import.meta.dirname, '../../builders/endless-copier.ts')
  const copier = spawn(process.execPath, [program, from, into], { stdio: ['ignore', 'pipe', 'inherit'] })
  await once(copier.stdout, 'data')
  // Killed while a copy stands half: the folder of one that is coming is there.
  while (!readdirSync(into).some((name) => name.includes('.coming-'))) await delay(1)
  copier.kill('SIGKILL')
  await once(copier, 'exit')

  const jobs = readdirSync(into).filter((name) => name.endsWith('.job.json'))
  for (const name of jobs) {
    expect(readJob(join(into, name)).ok).toBe(true)
    expect(readdirSync(join(into, name.replace(/\.json$/, ''), 'recordings'))).toHaveLength(60)
  }
  const half = readdirSync(into).filter((name) => name.includes('.coming-'))
  for (const name of half) {
    const again = join(into, `${name.replace(/\.coming-\d+$/, '')}.json`)
    expect(existsSync(again)).toBe(false)
    expect(await copyJob(from, again)).toEqual({ ok: true, value: null })
  }
  expect(readdirSync(into).filter((name) => name.includes('.coming-'))).toEqual([])
}, 30_000)
