import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
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

it('copies all that belongs to a job, and not its lock', () => {
  const from = job(2)
  const to = join(folder(), 'copy.job.json')
  expect(copyJob(from, to)).toEqual({ ok: true, value: null })
  expect(readFileSync(to, 'utf8')).toBe(readFileSync(from, 'utf8'))
  expect(readdirSync(to.replace(/\.json$/, ''))).toEqual(['recordings'])
  expect(copyJob(from, to)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('already') } })
  expect(copyJob(`${from}.none`, join(folder(), 'x.job.json'))).toMatchObject({
    ok: false,
    failure: { why: expect.stringContaining('no such') },
  })
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
    expect(copyJob(from, again)).toEqual({ ok: true, value: null })
  }
  expect(readdirSync(into).filter((name) => name.includes('.coming-'))).toEqual([])
}, 30_000)
