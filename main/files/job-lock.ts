import { closeSync, mkdirSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { fail, ok, type Result } from '../../app/result.ts'

export type JobLock = { release(): void }
export type LockOwner = { process: number; machine: string; address: string; since: string }

/** One host owns a job. A lock whose process is gone from this machine is taken over; any other is respected. */
export function lockJob(folder: string, me: { address: string; since: string }): Result<JobLock, { owner: LockOwner }> {
  mkdirSync(folder, { recursive: true })
  const path = join(folder, 'lock')
  const mine: LockOwner = { process: process.pid, machine: hostname(), ...me }
  for (let tries = 0; ; tries++) {
    try {
      const file = openSync(path, 'wx')
      writeSync(file, JSON.stringify(mine))
      closeSync(file)
      return ok({ release: () => rmSync(path, { force: true }) })
    } catch (cause) {
      if (!(cause instanceof Error && 'code' in cause && cause.code === 'EEXIST')) throw cause
    }
    const owner = readOwner(path)
    if (tries > 0 || (owner && lives(owner))) return fail({ owner: owner ?? { ...mine, process: 0, address: 'unknown' } })
    rmSync(path, { force: true })
  }
}

function readOwner(path: string): LockOwner | null {
  try {
    return JSON.parse(readFileSync(path, 'utf8')) as LockOwner
  } catch {
    return null
  }
}

function lives(owner: LockOwner): boolean {
  return owner.machine !== hostname() || processLives(owner.process)
}

/** Is there a process of this number on this machine? */
export function processLives(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (cause) {
    return cause instanceof Error && 'code' in cause && cause.code === 'EPERM'
  }
}
