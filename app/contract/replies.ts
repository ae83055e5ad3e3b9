import { z } from 'zod'

/** A request that could not be served as asked: what is wrong, where, and what would be right. */
export const refusal = z.strictObject({ kind: z.literal('refused-request'), why: z.string(), where: z.string().optional() })
/** The edit was made on an older revision; `newer` is what is held now. */
export const staleEdit = z.strictObject({ kind: z.literal('stale'), revision: z.int(), newer: z.unknown() })

export const resultOf = <V extends z.ZodType, F extends z.ZodType>(value: V, failure: F) =>
  z.discriminatedUnion('ok', [z.strictObject({ ok: z.literal(true), value }), z.strictObject({ ok: z.literal(false), failure })])

export const nothing = z.strictObject({})
/** Refused, or made on an older revision. */
export const editProblem = z.union([refusal, staleEdit])
