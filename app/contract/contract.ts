import { z } from 'zod'
import { id, intendedChange, job, quickCheck, settingsImage } from '../job/schema.ts'
import { decimalText } from '../quantity/decimal-text.ts'
import { addressCalls } from './address-calls.ts'
import { appliedLoadCalls, appliedView } from './applied-load-calls.ts'
import { heardView, lineCalls, scanView, tapView } from './bus-calls.ts'
import { busFailure } from './bus-failure.ts'
import { commandCalls } from './command-calls.ts'
import { describeCalls, descriptionsView, registerSearchView } from './describe-calls.ts'
import { entrySheetCalls } from './entry-sheet-calls.ts'
import { importCalls } from './import-calls.ts'
import { jobEditCalls } from './job-edit-calls.ts'
import { fileWorkView, jobFileCalls } from './job-file-calls.ts'
import { logCalls } from './log-calls.ts'
import { pointChangeCalls } from './point-change.ts'
import { practiceCalls, practiceView } from './practice-calls.ts'
import { recordCalls, recordingView } from './record-calls.ts'
import { nothing, refusal, resultOf, staleEdit } from './replies.ts'
import type { CurveSample } from './sample-batch.ts'
import { busView, identityView, indicatorView, liveView, sessionView, writeFailure, writePreview, writeReceipt } from './views.ts'
import { visitCalls } from './visit-calls.ts'

const busProblem = z.union([busFailure, refusal])

/** Everything the renderer can ask for. Shells, host and renderer derive from it; nothing else crosses. */
export const hostCalls = {
  ...commandCalls,
  ...addressCalls,
  ...appliedLoadCalls,
  ...describeCalls,
  ...entrySheetCalls,
  ...importCalls,
  ...jobEditCalls,
  ...jobFileCalls,
  ...logCalls,
  ...visitCalls,
  ...pointChangeCalls,
  ...lineCalls,
  ...practiceCalls,
  ...recordCalls,
  /** `resume` goes on with this person's latest visit where it began in the last twelve hours, as for one command after another. */
  'visit.start': {
    request: z.strictObject({ by: z.string().min(1).max(80), resume: z.boolean().optional() }),
    reply: resultOf(z.strictObject({ visitId: id }), refusal),
  },
  /** Puts values into what is intended, or with `null` takes them back. The host computes scaling values again from the point and refuses what differs. */
  'point.intend': {
    request: z.strictObject({ pointId: id, revision: z.int(), values: intendedChange }),
    reply: resultOf(z.strictObject({ revision: z.int() }), z.union([refusal, staleEdit])),
  },
  /** Takes the steady signal of the unloaded point as its measured zero; scaling then starts from it. */
  'point.measure-zero': {
    request: z.strictObject({ pointId: id, revision: z.int() }),
    reply: resultOf(z.strictObject({ revision: z.int() }), z.union([refusal, staleEdit])),
  },
  /** Adds the steady signal under a load, in the point's unit, that somebody says is on. */
  'point.measure-load': {
    request: z.strictObject({ pointId: id, revision: z.int(), load: decimalText }),
    reply: resultOf(z.strictObject({ revision: z.int() }), z.union([refusal, staleEdit])),
  },

  'bus.open': { request: z.strictObject({ busId: id }), reply: resultOf(nothing, busProblem) },
  'bus.close': { request: z.strictObject({ busId: id }), reply: resultOf(nothing, refusal) },
  /** Halts every bus at once; says which writes it left open. */
  'sending.stop': { request: nothing, reply: resultOf(z.strictObject({ openWrites: z.array(id) }), refusal) },
  'sending.resume': { request: nothing, reply: resultOf(nothing, refusal) },

  'indicator.identify': { request: z.strictObject({ indicatorId: id }), reply: resultOf(identityView, busProblem) },
  /** The user compared three register values with the front panel, once this visit. */
  'indicator.vouch': { request: z.strictObject({ indicatorId: id, agrees: z.boolean() }), reply: resultOf(identityView, refusal) },
  'settings.read': { request: z.strictObject({ indicatorId: id }), reply: resultOf(settingsImage, busProblem) },
  /** Reads again and lists what a write of the intended values would do. */
  'settings.preview': { request: z.strictObject({ indicatorId: id }), reply: resultOf(writePreview, busProblem) },
  /** Lists what a restore would do; writing it is `settings.write` with this preview. */
  'settings.preview-restore': {
    request: z.strictObject({ indicatorId: id, to: z.enum(['before-last-write', 'as-found']) }),
    reply: resultOf(writePreview, busProblem),
  },
  /** Writes a preview, reads back, saves; on failure restores and says per parameter what is held now. */
  'settings.write': { request: z.strictObject({ previewId: z.string() }), reply: resultOf(writeReceipt, writeFailure) },
  /**
   * Ends an interrupted write found in the journal: put the old values back, or finish it. One that cannot be told, and was moving,
   * is met only here: `agreesWithPanel` vouches for it.
   */
  'journal.resolve': {
    request: z.strictObject({
      indicatorId: id,
      journalId: z.string(),
      how: z.enum(['restore', 'complete', 'leave']),
      agreesWithPanel: z.boolean().optional(),
    }),
    reply: resultOf(writeReceipt, writeFailure),
  },

  'live.start': { request: z.strictObject({ pointIds: z.array(id) }), reply: resultOf(nothing, refusal) },

  'check.start': {
    request: z.strictObject({ pointId: id, when: z.enum(['as-found', 'as-left']), standards: z.string().max(200).optional() }),
    reply: resultOf(quickCheck, refusal),
  },
  /** Takes the present steady reading, or a typed one, as the answer to `load`. */
  'check.capture': {
    request: z.strictObject({ checkId: id, load: decimalText, typed: decimalText.optional() }),
    reply: resultOf(quickCheck, refusal),
  },
  /** Takes the last step back, to be done again; it is kept beside the others and told with the result. */
  'check.take-back': { request: z.strictObject({ checkId: id }), reply: resultOf(quickCheck, refusal) },
  /** One in which nothing was taken is dropped. */
  'check.finish': { request: z.strictObject({ checkId: id }), reply: resultOf(quickCheck, refusal) },

  'sheet.read': { request: z.strictObject({ pointId: id }), reply: resultOf(z.strictObject({ html: z.string() }), refusal) },
} as const satisfies Record<string, { request: z.ZodType; reply: z.ZodType }>

/** State the host pushes whole whenever it changes; a reconnecting renderer is sent all of it again. */
export const hostTopics = {
  session: sessionView,
  job,
  bus: busView,
  scan: scanView,
  heard: heardView,
  tap: tapView,
  indicator: indicatorView,
  live: liveView,
  applied: appliedView,
  practice: practiceView,
  recording: recordingView,
  fileWork: fileWorkView,
  descriptions: descriptionsView,
  registerSearch: registerSearchView,
} as const satisfies Record<string, z.ZodType>

export type HostCalls = {
  [N in keyof typeof hostCalls]: { request: z.infer<(typeof hostCalls)[N]['request']>; reply: z.infer<(typeof hostCalls)[N]['reply']> }
}
export type CallName = keyof HostCalls
/** A handler that is missing does not compile; the host decodes each request by its schema before a handler sees it. */
export type Handlers = { [N in CallName]: (request: HostCalls[N]['request']) => Promise<HostCalls[N]['reply']> }

export type TopicName = keyof typeof hostTopics
export type TopicValue<T extends TopicName> = z.infer<(typeof hostTopics)[T]>

/** What travels over a WebSocket or IPC channel, host to renderer. */
export const hostMessage = z.discriminatedUnion('kind', [
  /**
   * Every topic follows; whatever is not among `topics` (name, or name/key) is gone. Another `serving` is another job or another host:
   * everything known before, samples too, belongs to the past.
   */
  z.strictObject({ kind: z.literal('afresh'), serving: z.string(), topics: z.array(z.string()) }),
  z.strictObject({ kind: z.literal('reply'), call: z.int(), value: z.unknown() }),
  /** The request did not fit its schema, or the host met a programming mistake; `why` says which. */
  z.strictObject({ kind: z.literal('rejected'), call: z.int(), why: z.string() }),
  /** `key` is a bus, indicator or point id, or a unit as `BUS/UNIT`; absent for topics that exist once. */
  z.strictObject({
    kind: z.literal('topic'),
    topic: z.enum(Object.keys(hostTopics) as [TopicName, ...TopicName[]]),
    key: z.string().optional(),
    value: z.unknown(),
  }),
  /** Comes every `pulseMs`, whatever else does: silence means that the host is held up. */
  z.strictObject({ kind: z.literal('pulse') }),
  /** A batch of live samples as `decodeSamples` reads it; over a WebSocket it is a binary message. */
  z.strictObject({ kind: z.literal('samples'), bytes: z.custom<Uint8Array>((value) => value instanceof Uint8Array) }),
])
export type HostMessage = z.infer<typeof hostMessage>

export const pulseMs = 1_000

/** What the page has of the host: `silent` where the connection stands and nothing comes, `lost` while it is being made again. */
export type HostReach = 'connected' | 'silent' | 'lost'

/** Renderer to host. */
export const rendererMessage = z.discriminatedUnion('kind', [
  /** `serving` as last told: a call meant for a job that has been left is not served. */
  z.strictObject({ kind: z.literal('call'), call: z.int(), name: z.string(), request: z.unknown(), serving: z.string().optional() }),
  /** The page has taken this batch of samples and has room for another. */
  z.strictObject({ kind: z.literal('taken'), batch: z.int() }),
])
export type RendererMessage = z.infer<typeof rendererMessage>

/** What the renderer hears without having asked. */
export type Pushed = Extract<HostMessage, { kind: 'topic' | 'afresh' }> | { kind: 'samples'; samples: readonly CurveSample[] }

/** How the renderer sees the host, whichever shell carries it. */
export type HostClient = {
  call<N extends CallName>(name: N, request: HostCalls[N]['request']): Promise<HostCalls[N]['reply']>
  listen(listener: (message: Pushed) => void): () => void
  onReach(listener: (reach: HostReach) => void): () => void
}
