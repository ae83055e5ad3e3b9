import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as delay } from 'node:timers/promises'
import { expect, it } from 'vitest'
import type { Job } from '../../../app/job/schema.ts'
import type { Profile } from '../../../app/profile/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { createJob } from '../../../main/files/job-store.ts'
import { journalFolder } from '../../../main/files/write-journal.ts'
import { type Bench, startBench } from '../../../simulator/index.ts'
import { openLeanHost } from '../../builders/lean-host.ts'
import { oneHopperBuses, oneHopperJob } from '../../builders/one-hopper.ts'
import { value } from '../../builders/practice-host.ts'

const kills = process.env['npm_lifecycle_event'] === 'torture' ? 1000 : 300
/** Writers side by side, each with an indicator and a line of its own; most of their time is the start of Node. */
const lanes = Array.from({ length: 6 }, (_, i) => `ind-1-${i}`)
/** What a write and what follows it take just now; learned, as it depends on what else the machine does. */
let writeMs = 200
const indicatorId = 'ind-1'
/** As told to people, and as the words that the indicator then holds. */
const states = [
  {
    told: { 'filter.time@1': '0.20', 'reading.interval@1': '0.2' },
    words: { 'filter.time@1': [20], 'reading.interval@1': [0x3e4c, 0xcccd] },
  },
  { told: { 'filter.time@1': '0.50', 'reading.interval@1': '0.5' }, words: { 'filter.time@1': [50], 'reading.interval@1': [0x3f00, 0] } },
]
const bundled = bundledProfiles.get('two-pairs-float32-locked')!
/** The same model, but quick to save, and given time enough for a busy machine: here the host is at fault, not the line. */
const profile: Profile = {
  ...bundled,
  requests: { ...bundled.requests, answerMs: 3000 },
  procedures: { ...bundled.procedures, save: { evidence: 'invented', steps: [{ write: 'control.command', words: [1] }, { waitMs: 40 }] } },
}
const folder = mkdtempSync(join(tmpdir(), 'spanwright-kill-'))
const profilePath = join(folder, 'model.profile.json')

/** Same numbers in every run, so that a failure can be had again. */
function randomMoments(seed: number): () => number {
  let state = seed
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
}

function jobOn(bench: Bench, lane: string): Job {
  const address = bench.addressOf(lane)
  if ('path' in address) throw new Error('expected a socket')
  const format = { baud: 115_200, parity: 'even', stopBits: 1 } as const
  const job = oneHopperJob()
  return { ...job, simulated: false, buses: job.buses.map((bus) => ({ ...bus, link: { kind: 'rtu-over-tcp', ...address, format } })) }
}

async function startWriter(jobPath: string): Promise<ChildProcess> {
  const writer = spawn(process.execPath, [join(import.meta.dirname, '../../builders/endless-writer.ts'), jobPath, profilePath], {
    stdio: ['ignore', 'pipe', 'inherit'],
    env: { ...process.env, NODE_COMPILE_CACHE: join(folder, 'compiled') },
  })
  const ended = once(writer, 'exit').then(() => Promise.reject(new Error('the writer ended by itself')))
  await Promise.race([once(writer.stdout!, 'data'), ended])
  ended.catch(() => {})
  return writer
}

const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b)

/** Kills one writer at this part of a write, then looks as the next day's host does. Gives what was found, in a few words. */
async function killAndLook(bench: Bench, lane: string, jobPath: string, part: number): Promise<string> {
  const held = () => {
    const s = bench.settings(lane)
    return { 'filter.time@1': s['filter.time@1'], 'reading.interval@1': s['reading.interval@1'] }
  }
  const writer = await startWriter(jobPath)
  const began = performance.now()
  writer.stdout!.once('data', () => {
    writeMs = (writeMs + performance.now() - began) / 2
  })
  const afterMs = part * writeMs
  await delay(afterMs)
  // Nothing came in longer than a write was thought to take: it takes longer now.
  if (performance.now() - began > writeMs) writeMs = performance.now() - began
  expect(writer.exitCode).toBeNull()
  writer.kill('SIGKILL')
  await once(writer, 'exit')
  const found = held()
  const last = journalFolder(jobPath.replace('.job.json', '.job/journal')).all().at(-1)

  const host = openLeanHost(jobPath, profile)
  try {
    value(await host.call('visit.start', { by: 'Next day' }))
    value(await host.call('bus.open', { busId: 'bus-1' }))
    value(await host.call('indicator.identify', { indicatorId }))
    const open = host.topics.get('indicator', indicatorId)?.openWrite
    if (!open) {
      // Nothing is said, so nothing may be half done: the last write that was begun holds, if any was.
      const wanted = last && Object.fromEntries(last.begin.wanted.map((w) => [w.key, w.words]))
      if (wanted) expect(found).toEqual(wanted)
      expect(states.map((s) => s.words)).toContainEqual(found)
      expect(bench.saved(lane)).toMatchObject(found)
      return last ? 'between two writes' : 'before anything was sent'
    }
    const before = states.find((s) => same(s.told, Object.fromEntries(open.wanted.map((w) => [w.key, w.held]))))
    const wanted = states.find((s) => same(s.told, Object.fromEntries(open.wanted.map((w) => [w.key, w.intended]))))
    if (!before || !wanted || before === wanted) throw new Error(`told what never was: ${JSON.stringify(open.wanted)}`)
    value(await host.call('journal.resolve', { indicatorId, journalId: open.journalId, how: 'restore' }))
    expect(held()).toEqual(before.words)
    expect(bench.saved(lane)).toMatchObject(before.words)
    expect(host.topics.get('indicator', indicatorId)?.openWrite).toBeNull()
    return same(found, before.words) ? 'open, old values' : same(found, wanted.words) ? 'open, new values' : 'open, mixed values'
  } finally {
    await host.close()
  }
}

it(`leaves old or new values, or says exactly what is open and restores it, when killed at ${kills} random moments`, async () => {
  writeFileSync(profilePath, JSON.stringify(profile))
  const buses = lanes.flatMap((key) =>
    oneHopperBuses({ kind: 'rtu-over-tcp', port: 0 }).map((bus) => ({
      ...bus,
      key,
      indicators: bus.indicators.map((i) => ({ ...i, key, profile })),
    })),
  )
  const bench = await startBench({ buses, seed: 3 })
  const random = randomMoments(41)
  const moments = Array.from({ length: kills }, () => 1.3 * random())
  const seen = new Map<string, number>()
  const ended = await Promise.allSettled(
    lanes.map(async (lane) => {
      for (let part = moments.pop(); part !== undefined; part = moments.pop()) {
        const jobPath = join(mkdtempSync(join(folder, 'kill-')), 'k.job.json')
        value(createJob(jobPath, jobOn(bench, lane)))
        const what = await killAndLook(bench, lane, jobPath, part).catch((problem: unknown) => {
          // The other lanes end what they are at, so that no writer is left behind.
          moments.length = 0
          throw problem
        })
        seen.set(what, (seen.get(what) ?? 0) + 1)
      }
    }),
  )
  await bench.close()
  for (const lane of ended) if (lane.status === 'rejected') throw lane.reason
  rmSync(folder, { recursive: true, force: true })
  const counts = [...seen].sort().map(([what, times]) => `${times} ${what}`)
  console.log(`killed ${kills} times: ${counts.join('; ')}; every open one restored`)
  expect([...seen.values()].reduce((sum, n) => sum + n, 0)).toBe(kills)
  // Were one of these never met, the moments would not be random.
  for (const what of ['open, old values', 'open, new values', 'between two writes']) expect(seen.get(what) ?? 0, what).toBeGreaterThan(0)
}, 1_800_000)
