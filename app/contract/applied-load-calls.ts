import { z } from 'zod'
import { id } from '../job/schema.ts'
import { decimalText } from '../quantity/decimal-text.ts'
import { nothing, refusal, resultOf } from './replies.ts'

/**
 * Loads that somebody says are on the points now, in each point's unit; a point that is absent has an unknown one. Not kept in the job.
 * `at` is monotonic milliseconds, as with samples: a reading from before is not one of this load.
 */
export const appliedView = z.strictObject({
  loads: z.record(id, z.strictObject({ load: decimalText, at: z.number() })),
})

export const appliedLoadCalls = {
  /** Says which load is on now; null takes it back to unknown. */
  'load.tell': { request: z.strictObject({ pointId: id, load: decimalText.nullable() }), reply: resultOf(nothing, refusal) },
} as const
