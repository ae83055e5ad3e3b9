import { setTimeout as delay } from 'node:timers/promises'
import type { LiveView } from '../../../app/contract/views.ts'
import { serveWeb } from '../../../main/web/server.ts'
import type { BenchAddress } from '../../../simulator/index.ts'
import { openHostAt } from '../../builders/practice-host.ts'

export type PageHostOptions = { jobPath: string; addresses: Record<string, BenchAddress> }
/**
 * `history`: polling rests, and pages are told so many samples a point, the next of an hour at twenty a second that began an hour
 * ago. `live`: the history is brought up to now and polling goes on. `read`: nothing but the reading, after garbage was collected.
 */
export type PageHostCommand = { kind: 'history'; samples: number } | { kind: 'live' } | { kind: 'read' }
export type PageHostReading = { heapBytes: number }

/** A process of its own, started with --expose-gc: the host of a job on a bench elsewhere, and the built page it serves. */
const { jobPath, addresses } = JSON.parse(process.argv[2] ?? '') as PageHostOptions
const host = openHostAt((key) => addresses[key] ?? missing(key), jobPath, null)
const shell = await serveWeb(host, { folder: 'out/renderer', port: 0 })

const everyMs = 50
const hourMs = 3_600_000
/** Samples a point told at once, and how often: as fast as a page takes them on a machine that has other things to do. */
const batch = 50
const batchEveryMs = 25
const points = host.topics.get('job')?.points ?? []

/** End of the history told so far; undefined before there is any, and again once polling has gone on after it. */
let toldUntil: number | undefined
let hourTold = false

async function tellHistory(samples: number): Promise<void> {
  await host.call('live.start', { pointIds: [] })
  // A second history begins when the last polled sample has been told.
  toldUntil ??= hourTold ? performance.now() + 1_000 : performance.now() - hourMs
  for (let left = samples; left > 0; left -= batch) {
    toldUntil = tellBatch(toldUntil, Math.min(batch, left))
    await delay(batchEveryMs)
  }
}

/** What the live loop would have told: the samples, and of each point how it stands. Gives when the next one is due. */
function tellBatch(from: number, count: number): number {
  const views = points.flatMap((point) => {
    const view = host.topics.get('live', point.id)
    return view?.state === 'fresh' ? [{ id: point.id, view }] : []
  })
  const told = Array.from({ length: count }, (_, i) =>
    views.map(({ view }, point) => ({ ...view.sample, ...valuesAt(point, from + i * everyMs), at: from + i * everyMs })),
  )
  host.topics.send({ kind: 'samples', samples: told.flat() })
  for (const [i, { id, view }] of views.entries())
    host.topics.set('live', id, { ...view, sample: told.at(-1)?.[i] ?? view.sample } satisfies LiveView)
  return from + count * everyMs
}

/** A load that moves slowly, each point at another height, and noise that fills some pixels. */
function valuesAt(point: number, at: number): { reading: string; gross: string; signal: string } {
  const noise = Math.sin(at * 12.9898 + point * 78.233) * 43_758.5453
  const reading = 200 + 200 * point + 60 * Math.sin(at / 90_000 + point) + 10 * (noise - Math.floor(noise))
  return { reading: reading.toFixed(1), gross: reading.toFixed(1), signal: (reading / 1500).toFixed(6) }
}

async function live(): Promise<void> {
  while (toldUntil !== undefined && toldUntil + everyMs < performance.now()) {
    toldUntil = tellBatch(toldUntil, Math.min(batch, Math.ceil((performance.now() - toldUntil) / everyMs)))
    await delay(batchEveryMs)
  }
  toldUntil = undefined
  hourTold = true
  await host.call('live.start', { pointIds: points.map((p) => p.id) })
}

await host.start()

process.on('message', (command: PageHostCommand) => {
  const done = command.kind === 'history' ? tellHistory(command.samples) : command.kind === 'live' ? live() : Promise.resolve()
  void done.then(() => {
    if (command.kind === 'read') global.gc?.()
    process.send?.({ heapBytes: process.memoryUsage().heapUsed } satisfies PageHostReading)
  })
})
process.on('disconnect', () => void Promise.allSettled([shell.close(), host.close()]).then(() => process.exit(0)))
process.send?.({ url: shell.url })

function missing(key: string): never {
  throw new RangeError(`there is no bus ${key}`)
}
