import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Job } from '../../app/job/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { openBus } from '../../main/bus/open-bus.ts'
import { createJob, type JobStore, openJobStore } from '../../main/files/job-store.ts'
import { createHost, type Host } from '../../main/host/host.ts'
import { nodeClock } from '../../main/host/node-clock.ts'
import { practiceLink, setMasterFormat } from '../../main/practice/open-practice.ts'
import { binUnitsIn } from '../../main/practice/practice-bins.ts'
import { practiceJob } from '../../main/practice/practice-job.ts'
import { type Bench, practiceBuses, startBench } from '../../simulator/index.ts'

/** What happens between the host and its disk. */
export type Disk = (store: JobStore) => JobStore
export type PracticeHost = { host: Host; bench: Bench; jobPath: string; close(): Promise<void> }

/** The real host over loopback sockets to the practice bench, which is kept open across `reopenHost`. */
export async function startPracticeHost(
  options: { job?: Job; start?: boolean; line?: 'pty' | 'rtu-over-tcp'; disk?: Disk } = {},
): Promise<PracticeHost> {
  const job = options.job ?? practiceJob()
  const bench = await startBench({ buses: practiceBuses(bundledProfiles, options.line ?? 'rtu-over-tcp', binUnitsIn(job)), seed: 7 })
  const jobPath = join(mkdtempSync(join(tmpdir(), 'spanwright-host-')), 'practice.job.json')
  const made = createJob(jobPath, job)
  if (!made.ok) throw new Error(made.failure.why)
  const host = openHostAt((key) => bench.addressOf(key), jobPath, bench, options.disk)
  if (options.start !== false) {
    await host.call('visit.start', { by: 'A. Tester' })
    await host.start()
  }
  return {
    host,
    bench,
    jobPath,
    async close() {
      await host.close()
      await bench.close()
    },
  }
}

/** A second host over the same bench and job file, as after a restart of the program. */
export const openHostOn = (bench: Bench, jobPath: string): Host => openHostAt((key) => bench.addressOf(key), jobPath, bench)

export function openHostAt(addressOf: Bench['addressOf'], jobPath: string, bench: Bench | null, disk: Disk = (store) => store): Host {
  const store = openJobStore(jobPath, { address: 'test', since: nodeClock.stamp() })
  if (!store.ok) throw new Error(store.failure.why)
  return createHost({
    store: disk(store.value),
    shell: 'command line',
    profiles: bundledProfiles,
    clock: nodeClock,
    bench: bench && { ...bench, close: async () => {} },
    openBus(bus, format) {
      if (bus.link.kind !== 'practice') throw new Error('the practice job has practice buses only')
      const link = practiceLink(addressOf, bus)
      if (bench) setMasterFormat(bench, bus, format)
      const fast = { baud: 115_200, parity: 'even', stopBits: 1 } as const
      return openBus({ ...bus, link: link.kind === 'rtu-over-tcp' ? { ...link, format: fast } : link }, { listenMs: 0 })
    },
  })
}

export function value<T, F>(result: { ok: true; value: T } | { ok: false; failure: F }): T {
  if (!result.ok) throw new Error(JSON.stringify(result.failure))
  return result.value
}
