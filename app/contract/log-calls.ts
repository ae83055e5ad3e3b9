import { z } from 'zod'
import { id } from '../job/schema.ts'
import { refusal, resultOf } from './replies.ts'
import { difference } from './views.ts'

/** One value of a write: held before, wanted, and what is held since where the write did not end well. */
export const loggedValue = z.strictObject({
  key: z.string(),
  old: z.string().nullable(),
  new: z.string(),
  /** Of `new`, and of `old` unless that has one of its own. */
  unit: z.string().optional(),
  oldUnit: z.string().optional(),
  now: z.union([z.strictObject({ value: z.string().nullable() }), z.literal('unknown')]).optional(),
})

/** One write to an indicator, or one command. Nothing is ever taken out of the log. */
export const logEntry = z.strictObject({
  at: z.string(),
  by: z.string(),
  indicatorId: id,
  /** Name and points as the job has them now; the id where the indicator is no longer in it. */
  indicator: z.string(),
  tags: z.array(z.string()),
  /** Address at the time. */
  unit: z.int(),
  kind: z.enum(['write', 'command']),
  command: z.string().optional(),
  channel: z.int().optional(),
  journalId: z.string().optional(),
  values: z.array(loggedValue),
  /** Settings that nobody asked to change and that were different afterwards. */
  alsoMoved: z.array(difference),
  /** Keys of what was written and that a power cut takes back. */
  unsaved: z.array(z.string()),
  /** open: interrupted, and not ended yet. left: ended without finishing or putting back. done, failed: of a command. */
  result: z.enum(['written', 'restored', 'not-restored', 'nothing-written', 'open', 'left', 'done', 'failed']),
  why: z.string().optional(),
})

export const logCalls = {
  /** Writes and commands, newest first; those of one indicator, or those that touched one point. */
  'log.read': {
    request: z.strictObject({ indicatorId: id.optional(), pointId: id.optional() }),
    reply: resultOf(
      z.strictObject({ entries: z.array(logEntry), /** Lines that a kill or a full disk left half written. */ unreadable: z.int() }),
      refusal,
    ),
  },
} as const

export type LogEntry = z.infer<typeof logEntry>
