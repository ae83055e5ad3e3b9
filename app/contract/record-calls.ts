import { z } from 'zod'
import { id } from '../job/schema.ts'
import { refusal, resultOf } from './replies.ts'

/** One recording: a file of live samples of one point. */
export const recordingView = z.strictObject({
  state: z.enum(['recording', 'ended', 'failed']),
  /** Name of the file in the job's folder of recordings. */
  file: z.string(),
  startedAt: z.string(),
  rows: z.int(),
  /** Why it failed, in one sentence. */
  why: z.string().optional(),
})

const pointIds = z.array(id).min(1).max(200)

export const recordCalls = {
  /** Starts a file of live samples for each point; the points stay polled until it is stopped. */
  'record.start': { request: z.strictObject({ pointIds }), reply: resultOf(z.strictObject({ files: z.array(z.string()) }), refusal) },
  'record.stop': { request: z.strictObject({ pointIds }), reply: resultOf(z.strictObject({ files: z.array(z.string()) }), refusal) },
} as const

export type RecordingView = z.infer<typeof recordingView>
