import { existsSync, mkdirSync, readFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { z } from 'zod'
import { type RecentJob, recentJob } from '../../app/contract/job-file-calls.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { writeFileAtomically } from './atomic-file.ts'
import { describeDiskProblem } from './disk-problem.ts'

type Entry = Omit<RecentJob, 'state'>

/** The jobs that this user had open, newest first: a file of the user's, outside any job. */
export type RecentJobs = {
  list(): RecentJob[]
  /** Puts a job at the head. What cannot be kept is no reason to refuse a job: the failure is the caller's to tell. */
  note(entry: Entry): Result<null, string>
  forget(path: string): Result<null, string>
}

const most = 20
const file = z.array(recentJob.omit({ state: true }))

export function recentJobs(path: string): RecentJobs {
  /** Read anew each time: another program of this user may have added to it. One that is broken counts as empty. */
  const read = (): Entry[] => {
    try {
      const found = file.safeParse(JSON.parse(readFileSync(path, 'utf8')))
      return found.success ? found.data : []
    } catch {
      return []
    }
  }
  const write = (entries: readonly Entry[]): Result<null, string> => {
    try {
      mkdirSync(dirname(path), { recursive: true })
      writeFileAtomically(path, `${JSON.stringify(entries.slice(0, most), null, 2)}\n`)
      return ok(null)
    } catch (cause) {
      return fail(`The list of recent jobs was not kept: ${describeDiskProblem(cause)}`)
    }
  }
  return {
    list: () => read().map((entry) => ({ ...entry, state: existsSync(entry.path) ? 'there' : 'missing' })),
    note: (entry) => write([entry, ...read().filter((e) => e.path !== entry.path)]),
    forget: (gone) => write(read().filter((e) => e.path !== gone)),
  }
}
