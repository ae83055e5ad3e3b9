import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as delay } from 'node:timers/promises'
import { expect, it } from 'vitest'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { createJob } from '../../../main/files/job-store.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { practiceBuses, startBench } from '../../../simulator/index.ts'
import { openHostOn, value } from '../../builders/practice-host.ts'

/** A handful in every run; `npm run torture` takes its time. */
const kills = process.env['npm_lifecycle_event'] === 'torture' ? 300 : 24
const oneWriteMs = 450
const indicatorId = 'ind-1'
const A = { 'filter.time@1': [20], 'reading.interval@1': [0x3e4c, 0xcccd] }
const B = { 'filter.time@1': [50], 'reading.interval@1': [0x3f00, 0] }

/** Same numbers in every run, so that a failure can be had again. */
function randomMoments(seed: number): () => number {
  let state = seed
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
}

async function startWriter(jobPath: string, port: number): Promise<ChildProcess> {
  const writer = spawn(process.execPath, [join(import.meta.dirname, '../../builders/endless-writer.ts'), jobPath, String(port)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  await once(writer.stdout!, 'data')
  return writer
}

it(`leaves old or new values, or says exactly what is open and restores it, when killed at ${kills} random moments`, async () => {
  const bench = await startBench({ buses: practiceBuses(bundledProfiles, 'rtu-over-tcp'), seed: 3 })
  const address = bench.addressOf('line-1')
  if ('path' in address) throw new Error('expected a socket')
  const random = randomMoments(41)
  const seen = { whole: 0, open: 0, torn: 0 }
  const held = () => {
    const s = bench.settings(indicatorId)
    return { 'filter.time@1': s['filter.time@1'], 'reading.interval@1': s['reading.interval@1'] }
  }

  for (let kill = 0; kill < kills; kill++) {
    const jobPath = join(mkdtempSync(join(tmpdir(), 'spanwright-kill-')), 'k.job.json')
    value(createJob(jobPath, practiceJob()))
    const writer = await startWriter(jobPath, address.port)
    await delay(random() * oneWriteMs)
    writer.kill('SIGKILL')
    await once(writer, 'exit')

    const host = openHostOn(bench, jobPath)
    await host.call('visit.start', { by: 'Next day' })
    value(await host.call('bus.open', { busId: 'bus-1' }))
    value(await host.call('indicator.identify', { indicatorId }))
    const open = host.topics.get('indicator', indicatorId)?.openWrite
    const now = held()
    const isWhole = [A, B].some((state) => JSON.stringify(state) === JSON.stringify(now))
    if (!isWhole) seen.torn++
    if (open) {
      seen.open++
      // What the user is told is what was held before and what was wanted.
      const before = Object.fromEntries(open.wanted.map((w) => [w.key, w.held]))
      expect([
        { 'filter.time@1': '0.20', 'reading.interval@1': '0.2' },
        { 'filter.time@1': '0.50', 'reading.interval@1': '0.5' },
      ]).toContainEqual(before)
      value(await host.call('journal.resolve', { indicatorId, journalId: open.journalId, how: 'restore' }))
      const old = before['filter.time@1'] === '0.20' ? A : B
      expect(bench.settings(indicatorId)).toMatchObject(old)
      expect(bench.saved(indicatorId)).toMatchObject(old)
    } else {
      seen.whole++
      expect(isWhole).toBe(true)
    }
    expect(host.topics.get('indicator', indicatorId)?.openWrite).toBeNull()
    await host.close()
  }
  console.log(
    `killed ${kills} times: ${seen.whole} ended whole, ${seen.open} left a write open (${seen.torn} with mixed values), all restored`,
  )
  expect(seen.open).toBeGreaterThan(0)
  await bench.close()
}, 1_800_000)
