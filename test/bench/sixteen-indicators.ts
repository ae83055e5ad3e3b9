import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as delay } from 'node:timers/promises'
import type { Job, Point } from '../../app/job/schema.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { createJob } from '../../main/files/job-store.ts'
import { practiceJob } from '../../main/practice/practice-job.ts'
import type { BenchBus, BenchIndicator } from '../../simulator/index.ts'
import { startChild } from './child.ts'
import type { HostReading } from './host-process.ts'
import type { Part, PartOptions } from './part.ts'
import { percent, type Row } from './table.ts'

const busKeys = ['line-1', 'line-2', 'line-3', 'line-4']
const unitsABus = 4
const format = { baud: 19_200, parity: 'even', stopBits: 1 } as const
/** Heap after collection may differ by this much between the end of the first minute and the end, and still count as flat. */
const flatWithin = 0.03
const firstMinuteMs = 60_000

const models = [...bundledProfiles.values()].filter((p) => p.registers.some((r) => r.role === 'live') && p.channels === 1)
const modelOf = (index: number): Profile => models[index % models.length] ?? models[0]!

const unitsOf = (bus: number): BenchIndicator[] =>
  Array.from({ length: unitsABus }, (_, i) => ({
    key: `ind-${bus}-${i}`,
    unit: i + 1,
    profile: modelOf(bus * unitsABus + i),
    words: {},
    format,
    points: [
      { channel: 1, unit: 'kg', sensors: [{ capacity: 1000, ratedOutputMvPerV: 2, zeroMvPerV: 0.01 }], deadLoad: 0, noiseMicrovolt: 0.15 },
    ],
  }))

const benchBuses = (): BenchBus[] =>
  busKeys.map((key, bus) => ({ key, link: { kind: 'pty', baud: format.baud, bitsPerCharacter: 11 }, indicators: unitsOf(bus) }))

function jobOn(paths: Record<string, { path: string }>): Job {
  const sample = practiceJob()
  const point = sample.points[0] as Point
  const buses = busKeys.map((key) => ({ id: key, name: key, link: { kind: 'serial' as const, path: paths[key]?.path ?? '', format } }))
  const indicators = busKeys.flatMap((busId, bus) =>
    unitsOf(bus).map(({ key, unit, profile }) => ({ id: key, name: key, busId, unit, profileId: profile.id })),
  )
  const points = indicators.map(({ id }) => ({ ...point, id: `point-${id}`, tag: id, indicatorId: id, channel: 1 }))
  return { ...sample, id: 'bench', simulated: false, buses, indicators, points }
}

const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(1)} MB`

async function run({ say, full }: PartOptions): Promise<Row[]> {
  const totalMs = full ? 180_000 : 40_000
  const settledMs = full ? firstMinuteMs : 20_000
  const folder = mkdtempSync(join(tmpdir(), 'sixteen-'))
  const jobPath = join(folder, 'bench.job.json')
  const simulator = await startChild<Record<string, { path: string }>>('simulator-process.ts', benchBuses())
  const made = createJob(jobPath, jobOn(simulator.first))
  if (!made.ok) throw new Error(made.failure.why)
  say('the host identifies and reads sixteen indicators')
  const { child } = await startChild<string>('host-process.ts', { jobPath }, ['--expose-gc'])
  const read = () => child.ask<HostReading>('read')
  try {
    const first = await read()
    let settled = first
    let last = first
    while (last.atMs - first.atMs < totalMs) {
      await delay(5_000)
      last = await read()
      if (last.atMs - first.atMs <= settledMs) settled = last
      say(`${((last.atMs - first.atMs) / 1000).toFixed(0)} of ${totalMs / 1000} s, heap ${megabytes(last.heapBytes)}`)
    }
    return rowsOf(first, settled, last)
  } finally {
    await child.end()
    await simulator.child.end()
    rmSync(folder, { recursive: true, force: true })
  }
}

function rowsOf(first: HostReading, settled: HostReading, last: HostReading): Row[] {
  const seconds = (reading: HostReading) => `${((reading.atMs - first.atMs) / 1000).toFixed(0)} s`
  const growth = last.heapBytes / settled.heapBytes - 1
  const since = (of: (reading: HostReading) => number) => of(last) - of(settled)
  const elapsedMs = since((r) => r.atMs)
  return [
    {
      what: 'heap after collection',
      measured: `${megabytes(settled.heapBytes)} after ${seconds(settled)}, ${megabytes(last.heapBytes)} after ${seconds(last)}: ${percent(growth)}`,
      aim: `flat: at most ${percent(flatWithin)} more`,
      met: growth <= flatWithin,
    },
    { what: 'memory of the process', measured: `${megabytes(settled.rssBytes)}, then ${megabytes(last.rssBytes)}` },
    { what: 'processor time of the host', measured: `${(since((r) => r.cpuMs) / elapsedMs).toFixed(2)} core` },
    { what: 'live samples', measured: `${((1000 * since((r) => r.samples)) / elapsedMs / 16).toFixed(1)} a second and indicator` },
  ]
}

export const sixteenIndicators: Part = {
  name: 'sixteen',
  title: 'Sixteen indicators of different models on four serial buses at 19,200 bit/s, the whole host polling all of them',
  notes: ['the simulator is another process; short run 40 s with the first 20 s left out, full run 3 minutes with the first left out'],
  run,
}
