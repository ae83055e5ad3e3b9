import { appendFileSync, existsSync, mkdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Job, job as jobSchema } from '../../app/job/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { writeFileAtomically } from './atomic-file.ts'
import { describeDiskProblem, describeReadProblem } from './disk-problem.ts'
import { type JobLock, lockJob } from './job-lock.ts'
import { keepHourly, keepVersion } from './keep-version.ts'
import { type JournalFolder, journalFolder } from './write-journal.ts'

export type JobProblem = { kind: 'job-file'; why: string; where: string }

/** The job on disk: `X.job.json` and, beside it, `X.job/` with journal, log of writes and earlier versions. */
export type JobStore = {
  readonly path: string
  readonly journal: JournalFolder
  readonly job: Job
  /** Checks the next version against the schema and saves it atomically; the revision rises by one. */
  save(change: (job: Job) => Job): Result<Job, JobProblem>
  /** Puts the present state by as an earlier version; gives its name. */
  keepVersion(at: string): Result<string, JobProblem>
  /** Adds one line to the log of writes; says why where the disk does not take it. */
  log(line: Record<string, unknown>): Result<null, string>
  close(): void
}

/** The folder beside a job file: `X.job/` for `X.job.json`. */
export const companion = (path: string) => path.replace(/\.json$/, '')

/** Reads and checks a job file. A newer schema is refused, not guessed at. */
export function readJob(path: string): Result<Job, JobProblem> {
  let text: string
  try {
    text = readFileSync(path, 'utf8')
  } catch (cause) {
    return fail({ kind: 'job-file', why: describeReadProblem(cause), where: path })
  }
  return parseJob(text, path, `An earlier version may stand in ${companion(path)}/earlier.`)
}

/** Checks the text of a job file; `where` is told with what is wrong, `otherwise` where the text is not even whole. */
export function parseJob(text: string, where: string, otherwise = ''): Result<Job, JobProblem> {
  const problem = (why: string, at = where) => fail({ kind: 'job-file' as const, why, where: at })
  let json: unknown
  try {
    json = JSON.parse(text)
  } catch (cause) {
    return problem(`The file is not whole JSON (${cause instanceof Error ? cause.message : String(cause)}). ${otherwise}`.trim())
  }
  const schema = typeof json === 'object' && json !== null && 'schema' in json ? json.schema : undefined
  if (typeof schema === 'number' && schema > 1)
    return problem(`The file has schema ${schema}; this program knows 1. Open it with a newer Spanwright.`)
  const read = jobSchema.safeParse(json)
  if (read.success) return ok(read.data)
  const [first] = read.error.issues
  return problem(
    `${first?.message ?? 'not a job'}${read.error.issues.length > 1 ? ` (and ${read.error.issues.length - 1} more)` : ''}`,
    `${where}: ${first?.path.join('.') || '(file)'}`,
  )
}

/** Opens a job for this host alone; refused with the owner's name while another holds it. */
export function openJobStore(path: string, me: { address: string; since: string }): Result<JobStore, JobProblem> {
  const read = readJob(path)
  if (!read.ok) return read
  const folder = companion(path)
  let lock: Result<JobLock, { owner: { process: number; machine: string; address: string } }>
  try {
    lock = lockJob(folder, me)
  } catch (cause) {
    return fail({ kind: 'job-file', why: describeDiskProblem(cause), where: folder })
  }
  if (!lock.ok) {
    const { machine, process, address } = lock.failure.owner
    return fail({
      kind: 'job-file',
      why: `This job is open in another Spanwright: process ${process} on ${machine} (${address}). Close it there first.`,
      where: path,
    })
  }
  return ok(store(path, folder, read.value, lock.value))
}

/** Writes a new job file; refuses to overwrite one that is there. */
export function createJob(path: string, fresh: Job): Result<null, JobProblem> {
  if (existsSync(path))
    return fail({ kind: 'job-file', why: 'There is a job with this name already; choose another name or open it.', where: path })
  try {
    writeFileAtomically(path, serialise(fresh))
    return ok(null)
  } catch (cause) {
    return fail({ kind: 'job-file', why: describeDiskProblem(cause), where: path })
  }
}

function store(path: string, folder: string, opened: Job, lock: JobLock): JobStore {
  let job = opened
  let closed = false
  const earlier = join(folder, 'earlier')
  mkdirSync(earlier, { recursive: true })
  const kept = new Set<string>()
  return {
    path,
    journal: journalFolder(join(folder, 'journal')),
    get job() {
      return job
    },
    save(change) {
      if (closed) return fail({ kind: 'job-file', why: 'This job has been closed.', where: path })
      const next = jobSchema.safeParse({ ...change(job), revision: job.revision + 1 })
      if (!next.success) {
        const [first] = next.error.issues
        return fail({ kind: 'job-file', why: first?.message ?? 'not a job', where: first?.path.join('.') ?? '' })
      }
      try {
        keepHourly(path, earlier, new Date().toISOString(), kept)
        writeFileAtomically(path, serialise(next.data))
      } catch (cause) {
        return fail({ kind: 'job-file', why: `Not saved: ${describeDiskProblem(cause)} The last saved version is untouched.`, where: path })
      }
      job = next.data
      return ok(job)
    },
    keepVersion(at) {
      try {
        return ok(keepVersion(path, earlier, at))
      } catch (cause) {
        return fail({ kind: 'job-file', why: `The present state could not be kept: ${describeDiskProblem(cause)}`, where: earlier })
      }
    },
    log(line) {
      try {
        appendFileSync(join(folder, 'log.jsonl'), `${JSON.stringify(line)}\n`)
        return ok(null)
      } catch (cause) {
        return fail(describeDiskProblem(cause))
      }
    },
    close() {
      if (!closed) lock.release()
      closed = true
    },
  }
}

const serialise = (job: Job) => `${JSON.stringify(job, null, 2)}\n`
