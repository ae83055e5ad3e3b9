import { existsSync, lstatSync, mkdirSync, readdirSync, renameSync, rmSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { fail, ok, type Result } from '../../app/result.ts'
import { writeFileAtomically } from './atomic-file.ts'
import { describeDiskProblem } from './disk-problem.ts'
import { cancelled } from './file-work.ts'
import { processLives } from './job-lock.ts'
import { companion, type JobProblem } from './job-store.ts'

/** Belongs to the host that holds the job, or is half written: never handed on. */
export const staysBehind = (name: string) => name === 'lock' || name.endsWith('.next')

/**
 * Puts a job and what belongs beside it where neither is yet. `fill` writes into a folder that is named `X.job` only when it is whole,
 * and the job file comes last: until everything stands there is no job, also when this is killed. A job or folder of that name is not overwritten.
 * `fill` may say why it is not to be, and its last step and `jobText` follow each other without a pause.
 */
export async function placeJob(
  jobPath: string,
  fill: (folder: string) => Promise<string | null>,
  jobText: () => string | Uint8Array,
  signal: AbortSignal,
): Promise<Result<null, JobProblem>> {
  const folder = companion(jobPath)
  const coming = `${folder}.coming-${process.pid}`
  const taken = () => {
    const there = [jobPath, folder].find((path) => lstatSync(path, { throwIfNoEntry: false }))
    const why = 'There is a job with this name already; choose another name or folder.'
    return there === undefined ? null : fail({ kind: 'job-file' as const, why, where: there })
  }
  const atFirst = taken()
  if (atFirst) return atFirst
  const notDone = (why: string) =>
    fail({ kind: 'job-file' as const, why: `Not done: ${why} Nothing was left behind.`, where: dirname(jobPath) })
  let moved = false
  try {
    dropHalves(folder)
    rmSync(coming, { recursive: true, force: true })
    mkdirSync(coming, { recursive: true })
    const why = await fill(coming)
    const meanwhile = taken()
    if (why !== null || meanwhile) {
      rmSync(coming, { recursive: true, force: true })
      return meanwhile ?? notDone(why ?? '')
    }
    renameSync(coming, folder)
    moved = true
    writeFileAtomically(jobPath, jobText())
    return ok(null)
  } catch (cause) {
    rmSync(moved ? folder : coming, { recursive: true, force: true })
    return notDone(signal.aborted ? cancelled : describeDiskProblem(cause))
  }
}

/** What a process that was killed left of an earlier attempt at this name. */
function dropHalves(folder: string): void {
  const parent = dirname(folder)
  const stem = `${basename(folder)}.coming-`
  if (!existsSync(parent)) return
  for (const name of readdirSync(parent))
    if (name.startsWith(stem) && /^\d+$/.test(name.slice(stem.length)) && !processLives(Number(name.slice(stem.length))))
      rmSync(join(parent, name), { recursive: true, force: true })
}
