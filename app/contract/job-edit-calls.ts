import { z } from 'zod'
import { bus, id, indicator, intendedChange, job, point } from '../job/schema.ts'
import { editProblem, refusal, resultOf } from './replies.ts'

const revision = z.int()
const edited = resultOf(z.strictObject({ revision }), editProblem)
const added = resultOf(z.strictObject({ revision, id }), editProblem)

/** Sealed or legal for trade; `null` is neither. The host adds when a seal was broken. */
const sealed = z.strictObject({
  seals: z.string().min(1).max(400),
  broken: z.strictObject({ by: z.string().min(1).max(80), reason: z.string().min(1).max(400) }).optional(),
})

const indicatorFields = indicator.omit({ id: true, sealed: true }).extend({ sealed: sealed.nullable().optional() })
const path = z.string().min(1).max(4_000)

/** Edits of what a job consists of, each made on a revision; and the job as files. */
export const jobEditCalls = {
  'job.edit': {
    request: z.strictObject({ revision, change: job.pick({ name: true, site: true, decimalSign: true }).partial() }),
    reply: edited,
  },
  'bus.add': { request: z.strictObject({ revision, bus: bus.omit({ id: true }) }), reply: added },
  'bus.edit': { request: z.strictObject({ revision, busId: id, change: bus.omit({ id: true }).partial() }), reply: edited },
  'bus.remove': { request: z.strictObject({ revision, busId: id }), reply: edited },
  'indicator.add': { request: z.strictObject({ revision, indicator: indicatorFields }), reply: added },
  'indicator.edit': { request: z.strictObject({ revision, indicatorId: id, change: indicatorFields.partial() }), reply: edited },
  'indicator.remove': { request: z.strictObject({ revision, indicatorId: id }), reply: edited },
  /** Intends values for settings of the whole indicator, for all its points at once, whatever each of them intended before; `null` takes one back. */
  'indicator.intend': { request: z.strictObject({ indicatorId: id, revision, values: intendedChange }), reply: edited },
  'point.add': { request: z.strictObject({ revision, point: point.omit({ id: true, intended: true }) }), reply: added },
  'point.remove': { request: z.strictObject({ revision, pointId: id }), reply: edited },

  /** Puts the job and everything beside it into one file to hand on. */
  'job.bundle': {
    request: z.strictObject({ to: path }),
    reply: resultOf(z.strictObject({ path: z.string(), files: z.int(), bytes: z.int() }), refusal),
  },
} as const
