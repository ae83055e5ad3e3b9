import { existsSync, lstatSync, mkdirSync, readdirSync, renameSync, rmSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { fail, ok, type Result } from '../../app/result.ts'
import { writeFileAtomically } from './atomic-file.ts'
import { describeDiskProblem } from './disk-problem.ts'
import { processLives } from './job-lock.ts'
import { companion, type JobProblem } from './job-store.ts'

/** Belongs to the host that holds the job, or is half written: never handed on. */
export const staysBehind = (name: string) => name === 'lock' || name.endsWith('.next')

/**
 * Puts a job and what belongs beside it where neither is yet. `fill` writes into a folder that is named `X.job` only when it is whole,
 * and the job file comes last: until everything stands there is no job, also when this is killed. A job or folder of that name is not overwritten.
 */
export function placeJob(jobPath: string, fill: (folder: string) => void, jobText: string | Uint8Array): Result<null, JobProblem> {
  const folder = companion(jobPath)
  const coming = `${folder}.coming-${process.pid}`
  const taken = [jobPath, folder].find((path) => lstatSync(path, { throwIfNoEntry: false }))
  if (taken) return fail({ kind: 'job-file', why: 'There is a job with this name already; choose another name or folder.', where: taken })
  let moved = false
  try {
    dropHalves(folder)
    mkdirSync(coming, { recursive: true })
    fill(coming)
    renameSync(coming, folder)
    moved = true
    writeFileAtomically(jobPath, jobText)
    return ok(null)
  } catch (cause) {
    rmSync(moved ? folder : coming, { recursive: true, force: true })
    return fail({ kind: 'job-file', why: `Not done: ${describeDiskProblem(cause)} Nothing was left behind.`, where: dirname(jobPath) })
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
