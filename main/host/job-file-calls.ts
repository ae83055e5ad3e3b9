import { existsSync, mkdirSync } from 'node:fs'
import { homedir } from 'node:os'
import { basename, dirname, isAbsolute, join, resolve } from 'node:path'
import type { Handlers } from '../../app/contract/contract.ts'
import { blankJob } from '../../app/job/blank-job.ts'
import type { Job } from '../../app/job/schema.ts'
import { ok, type Result } from '../../app/result.ts'
import { bundleLimits, openBundle } from '../files/bundle.ts'
import { copyJob, duplicateJob } from '../files/copy-job.ts'
import { describeDiskProblem } from '../files/disk-problem.ts'
import { createJob, type JobProblem } from '../files/job-store.ts'
import { lookIntoFolder } from '../files/look-into-folder.ts'
import type { FileWorker } from './file-work.ts'
import type { JobDoor } from './job-door.ts'
import { whyNotLeave } from './leave-job.ts'
import { refuse } from './refusals.ts'
import type { World } from './world.ts'

type JobFileCalls = Pick<
  Handlers,
  | 'jobs.recent'
  | 'jobs.forget'
  | 'folder.look'
  | 'job.new'
  | 'job.open'
  | 'job.open-practice'
  | 'job.save-as'
  | 'job.duplicate'
  | 'job.open-bundle'
>

const oneJobOnly = () => refuse('This host was started for one job and serves no other.')
const refuseProblem = ({ why, where }: JobProblem) => refuse(why, where)

/** Where a job goes or is: a bare name belongs to the folder of jobs, `~/` to the user's own, and `.job.json` is added where it is missing. */
export function jobPathFrom(text: string, folder: string): string {
  const trimmed = text.trim()
  const named = trimmed.endsWith('.job.json') ? trimmed : `${trimmed}.job.json`
  if (named.startsWith('~/')) return join(homedir(), named.slice(2))
  return isAbsolute(named) ? named : resolve(folder, named)
}

/** Jobs as files: new, another, a copy. What can leave the open job is refused while a write is under way or open. */
export function jobFileCalls(w: World, recorded: () => readonly string[], files: FileWorker): JobFileCalls {
  const { door } = w

  /** Makes a job file, if the present one may be left, and opens it. */
  async function makeAndOpen(at: JobDoor, make: () => Result<string, JobProblem> | Promise<Result<string, JobProblem>>) {
    const bar = whyNotLeave(w)
    if (bar) return refuse(bar)
    const made = await make()
    if (!made.ok) return refuseProblem(made.failure)
    return openAt(at, made.value)
  }

  return {
    async 'jobs.recent'() {
      if (!door) return oneJobOnly()
      return ok({ folder: door.folder, jobs: door.recent?.list() ?? [] })
    },
    async 'jobs.forget'({ path }) {
      if (!door) return oneJobOnly()
      const forgotten = door.recent?.forget(path) ?? ok(null)
      return forgotten.ok ? ok({}) : refuse(forgotten.failure)
    },
    async 'folder.look'({ path }) {
      if (!door) return oneJobOnly()
      if (path === undefined) ensureFolder(door.folder)
      const seen = lookIntoFolder(path ?? door.folder)
      return seen.ok ? seen : refuse(seen.failure, 'path')
    },

    async 'job.new'({ path, ...fields }) {
      if (!door) return oneJobOnly()
      return makeAndOpen(door, () => {
        const to = jobPathFrom(path, door.folder)
        const ready = readyFor(to, door.folder)
        const made = ready.ok ? createJob(to, blankJob(w.newId('job'), fields)) : ready
        return made.ok ? ok(to) : made
      })
    },
    async 'job.open'({ path }) {
      return door ? openAt(door, jobPathFrom(path, door.folder)) : oneJobOnly()
    },
    async 'job.open-practice'() {
      return door ? makeAndOpen(door, () => door.practice()) : oneJobOnly()
    },
    async 'job.save-as'({ path }) {
      if (!door) return oneJobOnly()
      const half = () => (recorded().length > 0 ? 'A recording is running. Stop it first: a copy would hold half of it.' : null)
      const why = half()
      if (why) return refuse(why)
      return makeAndOpen(door, async () => {
        const to = jobPathFrom(path, door.folder)
        const ready = readyFor(to, door.folder)
        if (!ready.ok) return ready
        const made = await files.run('copying', (work) => copyJob(w.store.path, to, work, () => half() ?? whyNotLeave(w)))
        return made.ok ? ok(to) : made
      })
    },
    async 'job.duplicate'({ path, name }) {
      if (!door) return oneJobOnly()
      const to = jobPathFrom(path, door.folder)
      const ready = readyFor(to, door.folder)
      const made = ready.ok ? duplicateJob(w.store.job, to, { id: w.newId('job'), name }) : ready
      return made.ok ? ok({ path: to }) : refuseProblem(made.failure)
    },
    async 'job.open-bundle'({ path, into }) {
      return door ? makeAndOpen(door, () => unpacked(files, path, into ?? door.folder)) : oneJobOnly()
    },
  }
}

export async function openAt(door: JobDoor, path: string) {
  const opened: Result<Job, JobProblem> = await door.open(path)
  if (!opened.ok) return refuseProblem(opened.failure)
  const { name, simulated } = opened.value
  return ok({ path, name, simulated })
}

export async function unpacked(files: FileWorker, bundle: string, into: string): Promise<Result<string, JobProblem>> {
  const opened = await files.run('unpacking', (work) => openBundle(bundle, into, bundleLimits, work))
  return opened.ok ? ok(opened.value.path) : opened
}

/** The folder of jobs is made when it is first needed; any other must be there. */
export function readyFor(path: string, jobsFolder: string): Result<null, JobProblem> {
  const problem = (why: string, where: string): Result<null, JobProblem> => ({ ok: false, failure: { kind: 'job-file', why, where } })
  if (basename(path) === '.job.json') return problem('A job needs a name, e.g. mill.', 'path')
  if (dirname(path) === jobsFolder) {
    const why = ensureFolder(jobsFolder)
    if (why) return problem(why, jobsFolder)
  }
  return existsSync(dirname(path)) ? ok(null) : problem('There is no such folder.', dirname(path))
}

function ensureFolder(folder: string): string | null {
  try {
    mkdirSync(folder, { recursive: true })
    return null
  } catch (cause) {
    return describeDiskProblem(cause)
  }
}
