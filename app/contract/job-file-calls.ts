import { z } from 'zod'
import { job } from '../job/schema.ts'
import { editProblem, nothing, refusal, resultOf } from './replies.ts'

const path = z.string().min(1).max(4_000)
const revision = z.int()

/** The job that the host serves from now on; every topic has been told afresh before this reply. */
const opened = resultOf(z.strictObject({ path: z.string(), name: z.string(), simulated: z.boolean() }), refusal)

/** A step of the history that was made, in words. */
const stepMade = z.strictObject({
  revision,
  label: z.string(),
  /** Tags of points whose indicator holds what was intended for it until now: undo and redo write nothing. */
  keeps: z.array(z.string()),
})

/** A job that this user had open. `missing`: the file is not where it was. */
export const recentJob = z.strictObject({
  path: z.string(),
  name: z.string(),
  site: z.string(),
  simulated: z.boolean(),
  openedAt: z.string(),
  state: z.enum(['there', 'missing']),
})

/** An earlier state of the open job, kept beside it. */
export const jobVersion = z.strictObject({
  version: z.string(),
  /** When it was put by, UTC: it is the state before the first change made then. */
  keptAt: z.string(),
  bytes: z.int(),
  /** What is otherwise in the present job, in words; absent where the version cannot be read, and `why` says it. */
  changes: z.string().optional(),
  revision: z.int().optional(),
  points: z.int().optional(),
  why: z.string().optional(),
})

const place = z.strictObject({ name: z.string(), path: z.string() })

/** A copy of the job that is being made, packed or unpacked: bytes done, and bytes in all. */
export const fileWorkView = z.strictObject({
  running: z.strictObject({ what: z.enum(['copying', 'packing', 'unpacking']), done: z.number(), of: z.number() }).nullable(),
})

/** Longest part of a file that one message carries, in base64 characters; and the largest file taken from the page, in bytes. */
export const longestPart = 600_000
export const largestImport = 200_000_000

/**
 * Jobs as files. One host serves one job at a time: opening another closes the buses of the first and ends its recordings.
 * That is refused while a write is under way or open; where the other job cannot be opened the first stays as it is.
 * A path without a folder is looked for in the user's folder of jobs, and `.job.json` is added where it is missing.
 */
export const jobFileCalls = {
  'jobs.recent': {
    request: nothing,
    reply: resultOf(z.strictObject({ /** Where a job without a folder goes. */ folder: z.string(), jobs: z.array(recentJob) }), refusal),
  },
  'jobs.forget': { request: z.strictObject({ path }), reply: resultOf(nothing, refusal) },
  /** Folders, jobs and bundles in one folder of this machine, to choose from. */
  'folder.look': {
    request: z.strictObject({ path: path.optional() }),
    reply: resultOf(
      z.strictObject({
        folder: z.string(),
        parent: z.string().nullable(),
        folders: z.array(place),
        jobs: z.array(place),
        bundles: z.array(place),
      }),
      refusal,
    ),
  },

  /** An empty job; a simulated one works on the practice bench and never reaches a real line. */
  'job.new': {
    request: z.strictObject({ path, ...job.pick({ name: true, site: true, decimalSign: true, simulated: true }).shape }),
    reply: opened,
  },
  'job.open': { request: z.strictObject({ path }), reply: opened },
  /** The practice job on the practice bench, made where there is none yet. */
  'job.open-practice': { request: nothing, reply: opened },
  /** The same job with all that belongs to it under another name; the host goes on with the copy. */
  'job.save-as': { request: z.strictObject({ path }), reply: opened },
  /** Ends what `fileWork` shows; nothing of it is left behind. */
  'job.cancel-copying': { request: nothing, reply: resultOf(nothing, refusal) },
  /** A new job after this one: buses, indicators, points and certificates, no visits, no measured values, no seals. It is not opened. */
  'job.duplicate': {
    request: z.strictObject({ path, name: job.shape.name }),
    reply: resultOf(z.strictObject({ path: z.string() }), refusal),
  },
  /** Unpacks a bundle into a folder and opens the job in it. */
  'job.open-bundle': { request: z.strictObject({ path, into: path.optional() }), reply: opened },

  /** A file dropped on the page comes in parts: begin, parts in order, end. A bundle or a job file; it goes into the folder of jobs and is opened. */
  'import.begin': {
    request: z.strictObject({ name: z.string().min(1).max(200), bytes: z.int().min(1).max(largestImport) }),
    reply: resultOf(z.strictObject({ importId: z.string(), longestPart: z.int() }), refusal),
  },
  'import.part': {
    request: z.strictObject({ importId: z.string(), base64: z.base64().min(4).max(longestPart) }),
    reply: resultOf(z.strictObject({ received: z.int() }), refusal),
  },
  'import.end': { request: z.strictObject({ importId: z.string(), into: path.optional() }), reply: opened },
  'import.cancel': { request: z.strictObject({ importId: z.string() }), reply: resultOf(nothing, refusal) },

  /** Earlier versions of the open job, newest first. */
  'job.versions': { request: nothing, reply: resultOf(z.strictObject({ versions: z.array(jobVersion) }), refusal) },
  /** Puts an earlier version in place of the present state, which is kept as a version first. Visits, and what they stand on, stay. */
  'job.bring-back': {
    request: z.strictObject({ revision, version: z.string().max(60) }),
    reply: resultOf(z.strictObject({ revision, keptAs: z.string() }), editProblem),
  },
  /** Takes back the last edit of the job. Visits, checks and what was written to indicators are no edits and stay. */
  'job.undo': { request: z.strictObject({ revision }), reply: resultOf(stepMade, editProblem) },
  'job.redo': { request: z.strictObject({ revision }), reply: resultOf(stepMade, editProblem) },
} as const

export type RecentJob = z.infer<typeof recentJob>
export type FileWorkView = z.infer<typeof fileWorkView>
export type JobVersion = z.infer<typeof jobVersion>
