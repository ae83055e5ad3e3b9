import { z } from 'zod'
import { id, settingsImage } from '../job/schema.ts'
import { busFailure } from './bus-failure.ts'
import { place, whereabouts } from './place.ts'

/** What a person at the screen is told about one bus. */
export const busView = z.strictObject({
  state: z.enum(['closed', 'opening', 'listening', 'open', 'down', 'halted']),
  /** Why it is down or halted, in one sentence. */
  why: z.string().optional(),
  /** Down, and opened again by itself as soon as that is possible. */
  reopens: z.literal(true).optional(),
  /** The last request of another master, monotonic ms; `again` where it came while the line was listened to anew. Gone once it was not heard. */
  otherMaster: z.strictObject({ at: z.number(), again: z.boolean() }).optional(),
  answering: z.int(),
  silent: z.int(),
  /** Median time from request to the last byte of the answer; absent until measured. */
  answerMs: z.number().optional(),
  /** Complete live readings per second and indicator, measured over the last seconds. */
  readingsPerSecond: z.number().optional(),
  /** Oddities of the line that were recognised, each in one sentence: local echo, noise between frames. */
  remarks: z.array(z.string()).optional(),
})

export const identityView = z.strictObject({
  outcome: z.enum(['not-asked', 'confirmed', 'contradicted', 'cannot-tell']),
  tests: z.array(z.strictObject({ register: z.string(), expected: z.string(), got: z.string(), agrees: z.boolean() })),
  compareWithPanel: z.array(z.strictObject({ register: z.string(), value: z.string() })),
})

export const difference = z.strictObject({
  key: z.string(),
  held: z.string().nullable(),
  intended: z.string(),
  /** Of what is intended; of what is held too, unless that has one of its own. Empty: none that is known. */
  unit: z.string().optional(),
  heldUnit: z.string().optional(),
})

/** Everything about one parameter of a write that did not end well. */
export const parameterOutcome = z.strictObject({
  key: z.string(),
  wanted: z.string(),
  before: z.string().nullable(),
  now: z.union([z.strictObject({ value: z.string().nullable() }), z.literal('unknown')]),
})

export const writeStep = z.enum([
  'queued',
  'reading-again',
  'journalled',
  'unlocking',
  'writing',
  'reading-back',
  'saving',
  'following',
  'reading-all',
  'restoring',
  'done',
])

export const writeReceipt = z.strictObject({
  written: z.array(difference),
  /** Settings nobody asked to change that are different after the write. */
  alsoMoved: z.array(difference),
  /** The indicator was told to save. Without it, what was written is kept at once, but for what is `unsaved`. */
  saved: z.boolean(),
  /** Keys of what was written and a power cut takes back. */
  unsaved: z.array(z.string()).default([]),
  /** It was given another address or line format; `at-next-power-up` where it still answers at the old one until then. */
  moved: z.strictObject({ from: place, to: place, when: z.enum(['now', 'at-next-power-up']) }).optional(),
})

export const writeFailed = z.strictObject({
  kind: z.literal('failed'),
  /** A bus failure, a read-back that differs, or a disk that does not take what has to be kept. */
  because: z.union([
    busFailure,
    z.strictObject({ kind: z.literal('read-back-differs'), key: z.string(), wanted: z.string(), got: z.string() }),
    /** It went to its new address or line format, and the job could not be saved with that. */
    z.strictObject({ kind: z.literal('job-not-saved'), why: z.string() }),
    /** The disk did not take a line of the journal: nothing was sent after it but what puts the old values back. */
    z.strictObject({ kind: z.literal('journal-not-kept'), why: z.string() }),
  ]),
  during: writeStep,
  /** restored: every old value was read back. not-restored: the parameters say what is held or that it is unknown. */
  end: z.enum(['restored', 'not-restored', 'nothing-written']),
  parameters: z.array(parameterOutcome),
  /** Where address or line format were to change: where it answers now. */
  whereabouts: whereabouts.optional(),
})

export const writeFailure = z.discriminatedUnion('kind', [
  /** The indicator no longer holds what the preview showed; nothing was written. */
  z.strictObject({ kind: z.literal('changed-meanwhile'), changed: z.array(difference) }),
  z.strictObject({ kind: z.literal('not-allowed'), why: z.string() }),
  writeFailed,
])

export const writePreview = z.strictObject({
  previewId: z.string(),
  indicatorId: id,
  /** What differs and would be written, in the order of writing. */
  writes: z.array(difference),
  /** All points on the indicator: `written` those that get some of the values, the others are touched by its save or restart only. */
  touches: z.array(z.strictObject({ pointId: id, tag: z.string(), written: z.boolean() })),
  procedure: z.strictObject({ unlocks: z.boolean(), saves: z.boolean(), restarts: z.boolean() }),
  /** Keys of what would be written and a power cut would take back. */
  unsaved: z.array(z.string()),
  /** What a change also moves, by the profile. */
  moves: z.array(z.strictObject({ when: z.string(), moves: z.array(z.string()), why: z.string().optional() })),
  cautions: z.array(z.string()),
})

/** An interrupted write found in the journal: what it was and what may be done now. */
export const openWrite = z.strictObject({
  journalId: z.string(),
  startedAt: z.string(),
  by: z.string(),
  wanted: z.array(difference),
})

export const indicatorView = z.strictObject({
  answering: z.union([z.literal('not-asked'), z.literal('yes'), busFailure]),
  identity: identityView,
  held: settingsImage.nullable(),
  differs: z.array(difference),
  /** `says`: what is waited for meanwhile, where that is more than the step tells. */
  writing: z.strictObject({ step: writeStep, done: z.int(), of: z.int(), says: z.string().optional() }).nullable(),
  lastWrite: z
    .union([
      z.strictObject({ ok: z.literal(true), receipt: writeReceipt }),
      z.strictObject({ ok: z.literal(false), failure: writeFailure }),
    ])
    .nullable(),
  openWrite: openWrite.nullable(),
})

/** One live value of one point. Texts carry the indicator's own decimals; `at` is monotonic milliseconds. */
export const liveSample = z.strictObject({
  pointId: id,
  at: z.number(),
  /** Null where the indicator says something that is no number (NaN) or was not asked for. */
  reading: z.string().nullable(),
  gross: z.string().nullable(),
  unit: z.string(),
  signal: z.string().nullable(),
  signalUnit: z.enum(['mV/V', 'mV']),
  /** measured: the indicator gives the signal itself; derived: computed from the reading through the scaling values. */
  signalOrigin: z.enum(['measured', 'derived', 'none']),
  status: z.array(z.string()),
})

export const liveView = z.discriminatedUnion('state', [
  /** `because`: why not, once it was asked in vain. */
  z.strictObject({ state: z.literal('never-read'), because: busFailure.optional() }),
  z.strictObject({ state: z.literal('fresh'), sample: liveSample, steady: z.boolean(), noiseSignal: z.number().nullable() }),
  /** `missed`: polls missing since then, at the rate at which this indicator's readings came. */
  z.strictObject({ state: z.literal('stale'), sample: liveSample, ageMs: z.number(), missed: z.int(), because: busFailure }),
])

export const sessionView = z.strictObject({
  shell: z.enum(['window', 'browser', 'command line']),
  stopped: z.boolean(),
  by: z.string(),
  visitId: id.nullable(),
  jobPath: z.string(),
  /** The indicators are the practice bench. */
  practice: z.boolean(),
  savedAt: z.string().nullable(),
  /** Writes and commands in the log; null where the disk does not give it. */
  logged: z.int().nullable(),
  /** What undo would take back and redo would do again, in words; null where there is nothing. */
  undo: z.string().nullable(),
  redo: z.string().nullable(),
  /** UTC instant that belongs to monotonic zero. */
  anchor: z.string(),
})

export type BusView = z.infer<typeof busView>
export type IdentityView = z.infer<typeof identityView>
export type Difference = z.infer<typeof difference>
export type ParameterOutcome = z.infer<typeof parameterOutcome>
export type WriteStep = z.infer<typeof writeStep>
export type WriteReceipt = z.infer<typeof writeReceipt>
export type WriteFailure = z.infer<typeof writeFailure>
export type WritePreview = z.infer<typeof writePreview>
export type OpenWrite = z.infer<typeof openWrite>
export type IndicatorView = z.infer<typeof indicatorView>
export type LiveSample = z.infer<typeof liveSample>
export type LiveView = z.infer<typeof liveView>
export type SessionView = z.infer<typeof sessionView>
