import { constants, cpSync, existsSync, readFileSync } from 'node:fs'
import { basename } from 'node:path'
import type { Job } from '../../app/job/schema.ts'
import { fail, type Result } from '../../app/result.ts'
import { describeDiskProblem } from './disk-problem.ts'
import { companion, createJob, type JobProblem } from './job-store.ts'
import { placeJob, staysBehind } from './place-job.ts'

/** Puts a whole copy of a job, with journals, log, recordings and earlier versions, under another name. */
export function copyJob(from: string, to: string): Result<null, JobProblem> {
  let text: Buffer
  try {
    text = readFileSync(from)
  } catch (cause) {
    return fail({ kind: 'job-file', why: describeDiskProblem(cause), where: from })
  }
  const folder = companion(from)
  const fill = (coming: string) => {
    if (!existsSync(folder)) return
    cpSync(folder, coming, {
      recursive: true,
      preserveTimestamps: true,
      mode: constants.COPYFILE_FICLONE,
      filter: (source) => source === folder || !staysBehind(basename(source)),
    })
  }
  return placeJob(to, fill, text)
}

/** A new job after another: what people decided of it, without visits, measured values, intended values and seals. */
export function duplicateJob(from: Job, to: string, fresh: { id: string; name: string }): Result<null, JobProblem> {
  return createJob(to, {
    ...from,
    ...fresh,
    revision: 0,
    visits: [],
    indicators: from.indicators.map(({ sealed: _itsOwn, ...indicator }) => indicator),
    // Sources that are measured begin anew.
    points: from.points.map(({ scalingFrom, ...point }) => ({
      ...point,
      ...(scalingFrom === 'certificate-table' ? { scalingFrom } : {}),
      measured: {},
      intended: {},
    })),
  })
}
