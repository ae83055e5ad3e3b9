import { constants, cpSync, existsSync, mkdirSync, readFileSync, statSync } from 'node:fs'
import { open } from 'node:fs/promises'
import { basename, join } from 'node:path'
import type { Job } from '../../app/job/schema.ts'
import { fail, type Result } from '../../app/result.ts'
import { type EndedRecording, endedRecordings } from './ended-recordings.ts'
import { type FileWork, partsOf, unwatched } from './file-work.ts'
import { companion, createJob, type JobProblem } from './job-store.ts'
import { placeJob, staysBehind } from './place-job.ts'

/**
 * Puts a whole copy of a job, with journals, log, recordings and earlier versions, under another name. The host goes on meanwhile: what
 * changes is copied last and in one go, unless `whyNotNow` then says why it cannot be.
 */
export async function copyJob(
  from: string,
  to: string,
  { signal, tell }: FileWork = unwatched,
  whyNotNow: () => string | null = () => null,
): Promise<Result<null, JobProblem>> {
  if (!existsSync(from)) return fail({ kind: 'job-file', why: 'There is no such file.', where: from })
  const folder = companion(from)
  const fill = async (coming: string) => {
    await copyRecordings(endedRecordings(folder), join(coming, 'recordings'), { signal, tell })
    const why = whyNotNow()
    if (why !== null || !existsSync(folder)) return why
    cpSync(folder, coming, {
      recursive: true,
      preserveTimestamps: true,
      mode: constants.COPYFILE_FICLONE,
      filter: (source, copy) => source === folder || (!staysBehind(basename(source)) && !isCopied(copy)),
    })
    return null
  }
  return placeJob(to, fill, () => readFileSync(from), signal)
}

const isCopied = (copy: string) => existsSync(copy) && statSync(copy).isFile()

async function copyRecordings(recordings: readonly EndedRecording[], to: string, { signal, tell }: FileWork): Promise<void> {
  const of = recordings.reduce((sum, r) => sum + r.bytes, 0)
  let done = 0
  if (recordings.length > 0) mkdirSync(to, { recursive: true })
  for (const { name, path } of recordings) {
    const copy = await open(join(to, name), 'wx')
    try {
      for await (const part of partsOf(path, signal)) {
        await copy.writeFile(part)
        done += part.length
        tell(done, of)
      }
      const { atime, mtime } = statSync(path)
      await copy.utimes(atime, mtime)
    } finally {
      await copy.close()
    }
  }
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
