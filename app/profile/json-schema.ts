import { z } from 'zod'
import { profile } from './schema.ts'

/**
 * The profile format as a JSON Schema (draft 2020-12), made from the one definition that the program itself reads by.
 * Limits: rules between values (two registers on one address, a name that is not there) are beyond it; reading a profile checks those.
 */
export function profileJsonSchema(): Record<string, unknown> {
  const made = z.toJSONSchema(profile, { io: 'input', target: 'draft-2020-12' })
  return { title: 'Spanwright profile', description: 'An indicator model as data, schema 1.', ...made }
}
