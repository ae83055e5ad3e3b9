import { homedir } from 'node:os'
import { dirname, join } from 'node:path'
import { jobClash } from '../app/job/job-rules.ts'
import type { Job } from '../app/job/schema.ts'
import { bundledProfiles } from '../app/profiles/bundled.ts'
import { fail, ok, type Result } from '../app/result.ts'
import { openBus } from './bus/open-bus.ts'
import { type JobProblem, openJobStore, readJob } from './files/job-store.ts'
import { recentJobs } from './files/recent-jobs.ts'
import { createHost, type Host, type HostOptions } from './host/host.ts'
import type { JobDoor } from './host/job-door.ts'
import { nodeClock } from './host/node-clock.ts'
import { ensurePracticeJob, type PracticeBench, startPracticeBench } from './practice/open-practice.ts'
import { serveJobs } from './serve-jobs.ts'

export type OpenedHost = { host: Host; practice: PracticeBench | null }

export type OpenHostOptions = {
  jobPath: string
  shell: HostOptions['shell']
  address: string
  practice?: boolean
  listenMs?: number
  /** The user's own folder: the practice job and the list of recent jobs. Without it no list is kept. */
  userFolder?: string
  /** Where jobs go that are given a name only; `Spanwright` in the home folder unless told otherwise. */
  jobsFolder?: string
}

/**
 * Opens a job for a shell: its bench where it is a practice job, its buses, its sessions. Nothing is sent before `host.start()`.
 * The host can then be asked to open other jobs in its place, one at a time.
 */
export async function openHost(options: OpenHostOptions): Promise<Result<OpenedHost, JobProblem>> {
  if (options.practice) {
    const made = ensurePracticeJob(options.jobPath)
    if (!made.ok) return made
  }
  let practice: PracticeBench | null = null
  const userFolder = options.userFolder ?? null
  const served = await serveJobs(options.jobPath, {
    folder: options.jobsFolder ?? join(homedir(), 'Spanwright'),
    recent: userFolder === null ? null : recentJobs(join(userFolder, 'recent.json')),
    practice() {
      const path = options.practice ? options.jobPath : join(userFolder ?? dirname(options.jobPath), 'practice.job.json')
      const made = ensurePracticeJob(path)
      return made.ok ? ok(path) : made
    },
    async openJob(jobPath, rest) {
      const opened = await openOneJob(jobPath, options, rest)
      if (opened.ok) practice ??= opened.value.practice
      return opened
    },
  })
  return served.ok ? ok({ host: served.value, practice }) : served
}

type Opened = { host: Host; job: Job; practice: PracticeBench | null }

/** A host for one job. What fails leaves nothing behind: neither lock nor bench. */
async function openOneJob(
  jobPath: string,
  { shell, address, listenMs }: OpenHostOptions,
  rest: { door: JobDoor; stopped: boolean },
): Promise<Result<Opened, JobProblem>> {
  const read = readJob(jobPath)
  if (!read.ok) return read
  const profiles = new Map([...bundledProfiles, ...read.value.profiles.map((p) => [p.id, p] as const)])
  const clash = jobClash(read.value, profiles)
  if (clash)
    return fail({
      kind: 'job-file',
      why: `${clash.why} Correct the file, or open an earlier version of it.`,
      where: `${jobPath}: ${clash.where}`,
    })
  const store = openJobStore(jobPath, { address, since: nodeClock.stamp() })
  if (!store.ok) return store
  let practice: PracticeBench | null = null
  try {
    practice = read.value.simulated ? await startPracticeBench(read.value) : null
    const bench = practice
    const host = createHost({
      ...rest,
      store: store.value,
      shell,
      profiles,
      clock: nodeClock,
      bench: bench?.door ?? null,
      async openBus(bus, format) {
        const at = bench ? bench.resolve(bus, format) : ok(bus.link)
        if (!at.ok) return fail({ kind: 'link-down', why: at.failure })
        const own = at.value
        const link = format && 'format' in own ? { ...own, format } : own
        if (link.kind === 'practice')
          return fail({ kind: 'link-down', why: 'this bus belongs to the practice bench, which is not running' })
        return openBus({ ...bus, link }, listenMs === undefined ? {} : { listenMs })
      },
    })
    return ok({ host, job: store.value.job, practice })
  } catch (cause) {
    store.value.close()
    await practice?.door.close()
    return fail({
      kind: 'job-file',
      why: `It could not be opened: ${cause instanceof Error ? cause.message : String(cause)}`,
      where: jobPath,
    })
  }
}
