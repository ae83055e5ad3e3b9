import { existsSync, readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import type { Job } from '../../app/job/schema.ts'
import { fail, type Result } from '../../app/result.ts'
import { companion, type JobProblem, readJob } from './job-store.ts'

/** Earlier versions of a job: `X.job/earlier/`, one file each, named by the UTC time at which it was put by. */
export type KeptVersion = { version: string; keptAt: string; bytes: number; job: Result<Job, JobProblem> }

const folderOf = (jobPath: string) => join(companion(jobPath), 'earlier')
const named = /^(\d{4})(\d\d)(\d\d)(\d\d)(?:(\d\d)(\d\d)(?:-\d+)?)?$/

/** Newest first. What is no version of a job is passed over; one that cannot be read says why. */
export function keptVersions(jobPath: string): KeptVersion[] {
  const folder = folderOf(jobPath)
  if (!existsSync(folder)) return []
  const stems = readdirSync(folder).flatMap((name) => (name.endsWith('.job.json') ? [name.slice(0, -'.job.json'.length)] : []))
  return stems
    .flatMap((version) => {
      const [, year, month, day, hour, minute = '00', second = '00'] = named.exec(version) ?? []
      if (hour === undefined) return []
      const path = join(folder, `${version}.job.json`)
      const keptAt = `${year}-${month}-${day}T${hour}:${minute}:${second}Z`
      return [{ version, keptAt, bytes: statSync(path).size, job: readJob(path) }]
    })
    .sort((a, b) => (a.keptAt === b.keptAt ? b.version.localeCompare(a.version) : b.keptAt.localeCompare(a.keptAt)))
}

export function readVersion(jobPath: string, version: string): Result<Job, JobProblem> {
  const path = join(folderOf(jobPath), `${version}.job.json`)
  if (!named.test(version) || !existsSync(path))
    return fail({ kind: 'job-file', why: `There is no earlier version ${version}.`, where: 'version' })
  return readJob(path)
}
