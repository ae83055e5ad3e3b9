import { fail } from '../../app/result.ts'

/** A request that cannot be served as asked: what is wrong, where, and what would be right. */
export const refuse = (why: string, where?: string) =>
  fail({ kind: 'refused-request' as const, why, ...(where === undefined ? {} : { where }) })
