import { openHost } from '../../main/open-host.ts'

/** A process of its own, started with --expose-gc: the whole host on a job, polling every point, with one listener as a page would be. */
const { jobPath } = JSON.parse(process.argv[2] ?? '') as { jobPath: string }
const opened = await openHost({ jobPath, shell: 'command line', address: 'bench', listenMs: 0 })
if (!opened.ok) throw new Error(`${opened.failure.where}: ${opened.failure.why}`)
const { host } = opened.value

let samples = 0
host.topics.subscribe((message) => {
  if (message.kind === 'samples') samples += message.samples.length
})
await host.start()

export type HostReading = { heapBytes: number; rssBytes: number; cpuMs: number; atMs: number; samples: number }

process.on('message', () => {
  global.gc?.()
  const { heapUsed, rss } = process.memoryUsage()
  const { user, system } = process.cpuUsage()
  const reading: HostReading = {
    heapBytes: heapUsed,
    rssBytes: rss,
    cpuMs: (user + system) / 1000,
    atMs: performance.now(),
    samples,
  }
  process.send?.(reading)
})
process.on('disconnect', () => void host.close().then(() => process.exit(0)))
process.send?.('polling')
