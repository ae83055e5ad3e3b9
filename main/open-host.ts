import { bundledProfiles } from '../app/profiles/bundled.ts'
import { fail, ok, type Result } from '../app/result.ts'
import { openBus } from './bus/open-bus.ts'
import { type JobProblem, openJobStore, readJob } from './files/job-store.ts'
import { createHost, type Host, type HostOptions } from './host/host.ts'
import { nodeClock } from './host/node-clock.ts'
import { ensurePracticeJob, type PracticeBench, startPracticeBench } from './practice/open-practice.ts'

export type OpenedHost = { host: Host; practice: PracticeBench | null }

/** Opens a job for a shell: its bench where it is a practice job, its buses, its sessions. Nothing is sent before `host.start()`. */
export async function openHost(options: {
  jobPath: string
  shell: HostOptions['shell']
  address: string
  practice?: boolean
  listenMs?: number
}): Promise<Result<OpenedHost, JobProblem>> {
  if (options.practice) {
    const made = ensurePracticeJob(options.jobPath)
    if (!made.ok) return made
  }
  const read = readJob(options.jobPath)
  if (!read.ok) return read
  const store = openJobStore(options.jobPath, { address: options.address, since: nodeClock.stamp() })
  if (!store.ok) return store
  const practice = read.value.simulated ? await startPracticeBench(read.value) : null
  const host = createHost({
    store: store.value,
    shell: options.shell,
    profiles: new Map([...bundledProfiles, ...read.value.profiles.map((p) => [p.id, p] as const)]),
    clock: nodeClock,
    bench: practice?.door ?? null,
    async openBus(bus, format) {
      const own = practice ? practice.resolve(bus, format) : bus.link
      const link = format && 'format' in own ? { ...own, format } : own
      if (link.kind === 'practice') return fail({ kind: 'link-down', why: 'this bus belongs to the practice bench, which is not running' })
      return openBus({ ...bus, link }, options.listenMs === undefined ? {} : { listenMs: options.listenMs })
    },
  })
  return ok({ host, practice })
}
