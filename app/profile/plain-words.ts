import type { z } from 'zod'

const kinds: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  object: 'names with values in braces, { … }',
  record: 'names with values in braces, { … }',
  array: 'a list in brackets, [ … ]',
}
const ofLength = (origin: string, n: number | bigint) => (origin === 'string' ? `${n} ${n === 1 ? 'character' : 'characters'}` : String(n))

/** What is wrong with a value of a profile, for people, where its schema has no words of its own. */
export function plainWords(issue: z.core.$ZodRawIssue): string | undefined {
  switch (issue.code) {
    case 'invalid_type':
      return issue.input === undefined ? 'is missing' : `has to be ${kinds[issue.expected] ?? issue.expected}`
    case 'invalid_value':
      return issue.input === undefined ? `is missing: say ${oneOf(issue.values)}` : `say ${oneOf(issue.values)}`
    case 'too_small':
      return issue.origin === 'string' && issue.minimum === 1 ? 'is missing' : `at least ${ofLength(issue.origin, issue.minimum)}`
    case 'too_big':
      return `at most ${ofLength(issue.origin, issue.maximum)}`
    case 'unrecognized_keys':
      return `here stands what is not known: ${issue.keys.join(', ')}`
    default:
      return undefined
  }
}

function oneOf(values: readonly z.core.util.Primitive[]): string {
  const [last, ...before] = values.map(String).reverse()
  return before.length === 0 ? (last ?? '') : `${before.reverse().join(', ')} or ${last}`
}

/** What is wrong with a part of a profile, each with its path; empty where it fits. */
export function problemsIn(schema: z.ZodType, said: unknown): { path: string; message: string }[] {
  const read = schema.safeParse(said, { error: plainWords })
  return read.success ? [] : read.error.issues.map((issue) => ({ path: issue.path.join('.'), message: issue.message }))
}
