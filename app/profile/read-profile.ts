import { fail, ok, type Result } from '../result.ts'
import { plainWords } from './plain-words.ts'
import { type Profile, profile } from './schema.ts'

/** Everything wrong with a profile file, each with the path of the wrong value. */
export type ProfileFailure = { problems: { path: string; message: string }[] }

/** Reads parsed JSON as a profile; a newer schema is refused, not guessed at. */
export function readProfile(json: unknown): Result<Profile, ProfileFailure> {
  const schema = typeof json === 'object' && json !== null && 'schema' in json ? json.schema : undefined
  if (typeof schema === 'number' && schema > 1)
    return fail({
      problems: [{ path: 'schema', message: `this file has schema ${schema}; this program knows 1. Use a newer Spanwright.` }],
    })
  const read = profile.safeParse(json, { error: plainWords })
  if (read.success) return ok(read.data)
  return fail({ problems: read.error.issues.map((issue) => ({ path: issue.path.join('.') || '(file)', message: issue.message })) })
}

/** Reads a profile file's text; one that breaks off or is no JSON is refused with the line where it stops making sense. */
export function parseProfile(text: string): Result<Profile, ProfileFailure> {
  let json: unknown
  try {
    json = JSON.parse(text)
  } catch (problem) {
    const why = problem instanceof Error ? problem.message : ''
    const position = Number(/position (\d+)/.exec(why)?.[1] ?? text.length)
    const line = text.slice(0, position).split('\n').length
    return fail({ problems: [{ path: '(file)', message: `this is not whole JSON: it stops making sense in line ${line}` }] })
  }
  return readProfile(json)
}
