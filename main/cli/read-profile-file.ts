import { readFileSync } from 'node:fs'
import { type ProfileFailure, readProfile } from '../../app/profile/read-profile.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { fail, type Result } from '../../app/result.ts'
import { describeReadProblem } from '../files/disk-problem.ts'

/** A profile from a file; problems carry the path of the wrong value, "(file)" where the file as a whole is wrong. */
export function readProfileFile(file: string): Result<Profile, ProfileFailure> {
  const problem = (message: string) => fail({ problems: [{ path: '(file)', message }] })
  let text: string
  try {
    text = readFileSync(file, 'utf8')
  } catch (cause) {
    return problem(describeReadProblem(cause))
  }
  try {
    return readProfile(JSON.parse(text))
  } catch (cause) {
    return problem(`is not whole JSON: ${cause instanceof Error ? cause.message : String(cause)}`)
  }
}
