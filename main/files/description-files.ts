import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { type Description, description } from '../../app/contract/describe-calls.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { writeFileAtomically } from './atomic-file.ts'
import { describeDiskProblem } from './disk-problem.ts'
import { companion } from './job-store.ts'

export type UnreadableDescription = { file: string; why: string }

const ending = '.description.json'
const folderOf = (jobPath: string) => join(companion(jobPath), 'descriptions')

/** Descriptions under way, as they stand in `X.job/descriptions/`; one that cannot be read is named and left alone. */
export function readDescriptions(jobPath: string): { read: Description[]; unreadable: UnreadableDescription[] } {
  const folder = folderOf(jobPath)
  const read: Description[] = []
  const unreadable: UnreadableDescription[] = []
  for (const file of existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith(ending)) : []) {
    const found = readOne(join(folder, file))
    if (found.ok) read.push(found.value)
    else unreadable.push({ file, why: found.failure })
  }
  return { read, unreadable }
}

function readOne(path: string): Result<Description, string> {
  let json: unknown
  try {
    json = JSON.parse(readFileSync(path, 'utf8'))
  } catch (cause) {
    return fail(cause instanceof SyntaxError ? 'The file is not whole JSON.' : describeDiskProblem(cause))
  }
  const parsed = description.safeParse(json)
  const [first] = parsed.error?.issues ?? []
  return parsed.success ? ok(parsed.data) : fail(`${first?.path.join('.') || '(file)'}: ${first?.message ?? 'not a description'}`)
}

/** Keeps a description whole or not at all. */
export function keepDescription(jobPath: string, kept: Description): Result<null, string> {
  return onDisk(() => {
    mkdirSync(folderOf(jobPath), { recursive: true })
    writeFileAtomically(join(folderOf(jobPath), `${kept.id}${ending}`), `${JSON.stringify(kept, null, 2)}\n`)
    return null
  })
}

export const removeDescription = (jobPath: string, id: string): Result<null, string> =>
  onDisk(() => {
    rmSync(join(folderOf(jobPath), `${id}${ending}`), { force: true })
    return null
  })

/** Writes a finished profile into the job's folder of profiles; gives its path. */
export const writeProfile = (jobPath: string, profile: Profile): Result<string, string> =>
  onDisk(() => {
    const folder = join(companion(jobPath), 'profiles')
    mkdirSync(folder, { recursive: true })
    const path = join(folder, profileFileName(profile))
    writeFileAtomically(path, profileText(profile))
    return path
  })

export const profileFileName = (profile: Profile) => `${profile.id}.profile.json`
export const profileText = (profile: Profile) => `${JSON.stringify(profile, null, 2)}\n`

function onDisk<T>(work: () => T): Result<T, string> {
  try {
    return ok(work())
  } catch (cause) {
    return fail(describeDiskProblem(cause))
  }
}
