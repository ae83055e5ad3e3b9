import { z } from 'zod'
import { id, point } from '../job/schema.ts'
import { editProblem, resultOf } from './replies.ts'

/** Only what is to change. Fields with a default are taken without it: absent must stay absent, or an edit of the name would reset the channel. */
export const pointChange = point.omit({ id: true, intended: true, channel: true, measured: true }).partial().extend({
  channel: point.shape.channel.unwrap().optional(),
  measured: point.shape.measured.unwrap().optional(),
  /** Null: no longer stated. */
  verificationInterval: point.shape.verificationInterval.unwrap().nullable().optional(),
})

export type PointChange = z.infer<typeof pointChange>

const edited = resultOf(z.strictObject({ revision: z.int() }), editProblem)

export const pointChangeCalls = {
  'point.edit': { request: z.strictObject({ pointId: id, revision: z.int(), change: pointChange }), reply: edited },
  /** One edit of several points: all of it or nothing, and one revision. */
  'points.edit': {
    request: z.strictObject({
      revision: z.int(),
      edits: z
        .array(z.strictObject({ pointId: id, change: pointChange }))
        .min(1)
        .max(500),
    }),
    reply: edited,
  },
} as const
