import { realpathSync } from 'node:fs'
import type { Job } from '../app/job/schema.ts'
import { fail, ok, type Result } from '../app/result.ts'
import type { JobProblem } from './files/job-store.ts'
import type { RecentJobs } from './files/recent-jobs.ts'
import type { Host } from './host/host.ts'
import type { JobDoor } from './host/job-door.ts'
import { nodeClock } from './host/node-clock.ts'
import type { Topics } from './host/topics.ts'

export type JobsToServe = Pick<JobDoor, 'folder' | 'practice'> & {
  recent: RecentJobs | null
  openJob(path: string, rest: { door: JobDoor; stopped: boolean }): Promise<Result<{ host: Host; job: Job }, JobProblem>>
}

/**
 * One host towards the shells, however many jobs are opened one after another. The next job is opened, locked and ready before the present one
 * is left, so that a failure leaves everything as it was; only then do its buses close, its recordings end and its lock go.
 */
export async function serveJobs(firstPath: string, jobs: JobsToServe): Promise<Result<Host, JobProblem>> {
  const listeners = new Set<Parameters<Topics['subscribe']>[0]>()
  const door: JobDoor = { folder: jobs.folder, practice: jobs.practice, recent: jobs.recent, open }
  const first = await jobs.openJob(firstPath, { door, stopped: false })
  if (!first.ok) return first
  let current = first.value.host
  let unfollow = follow(current)
  let moving = false
  let lastMove: Promise<unknown> = Promise.resolve()
  noteRecent(firstPath, first.value.job)

  function follow(host: Host): () => void {
    return host.topics.subscribe((message) => {
      for (const listener of listeners) listener(message)
    })
  }

  function noteRecent(path: string, { name, site, simulated }: Job): void {
    const noted = jobs.recent?.note({ path, name, site, simulated, openedAt: nodeClock.stamp() })
    if (noted && !noted.ok) console.error(noted.failure)
  }

  function open(path: string): Promise<Result<Job, JobProblem>> {
    const move = another(path)
    lastMove = move
    return move
  }

  async function another(path: string): Promise<Result<Job, JobProblem>> {
    const refused = (why: string) => fail({ kind: 'job-file' as const, why, where: path })
    if (moving) return refused('Another job is being opened already.')
    const bar = current.whyNotLeave()
    if (bar) return refused(bar)
    if (isSameFile(path, current.topics.get('session')?.jobPath)) return refused('This job is open here already.')
    moving = true
    try {
      const next = await jobs.openJob(path, { door, stopped: current.topics.get('session')?.stopped ?? false })
      if (!next.ok) return next
      // A write may have begun while the next job was being opened.
      const since = current.whyNotLeave()
      if (since) {
        await next.value.host.close()
        return refused(since)
      }
      await leave(current)
      // Halted is halted: also where it was asked for a moment ago.
      if (current.topics.get('session')?.stopped) await next.value.host.call('sending.stop', {})
      current = next.value.host
      unfollow = follow(current)
      for (const message of current.topics.all()) for (const listener of listeners) listener(message)
      noteRecent(path, next.value.job)
      current.start().catch((cause: unknown) => console.error('The buses of the job could not be opened:', cause))
      return ok(next.value.job)
    } finally {
      moving = false
    }
  }

  /** What a job still says while it closes is told to nobody: its buses may share their names with the next job's. */
  async function leave(host: Host): Promise<void> {
    unfollow()
    await host.close().catch((cause: unknown) => console.error('The job was not closed cleanly:', cause))
  }

  return ok({
    call: (name, request) => current.call(name, request),
    async callUntrusted(name, request) {
      if (moving && name !== 'sending.stop') return { ok: false, why: 'Another job is being opened; wait a moment. Nothing was done.' }
      return current.callUntrusted(name, request)
    },
    topics: {
      get serving() {
        return current.topics.serving
      },
      set: (topic, key, value) => current.topics.set(topic, key, value),
      get: (topic, key) => current.topics.get(topic, key),
      drop: (topic, key) => current.topics.drop(topic, key),
      all: () => current.topics.all(),
      send: (message) => current.topics.send(message),
      recall: () => current.topics.recall(),
      subscribe(listener) {
        listeners.add(listener)
        return () => listeners.delete(listener)
      },
    },
    profileOf: (indicatorId) => current.profileOf(indicatorId),
    whyNotLeave: () => current.whyNotLeave(),
    start: () => current.start(),
    async close() {
      await lastMove
      await current.close()
    },
  })
}

function isSameFile(a: string, b: string | undefined): boolean {
  try {
    return b !== undefined && realpathSync(a) === realpathSync(b)
  } catch {
    return false
  }
}
