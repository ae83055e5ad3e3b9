import { z } from 'zod'
import { id } from '../job/schema.ts'
import { serialFormat } from '../profile/schema.ts'
import { busFailure } from './bus-failure.ts'
import { nothing, refusal, resultOf } from './replies.ts'

const onBus = z.strictObject({ busId: id })
const begun = z.union([busFailure, refusal])

/** A serial port of this computer, or a bus of the practice bench. None is opened to find out. */
export const portView = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('serial'),
    path: z.string(),
    /** What the system says of it, e.g. maker, USB numbers; empty where it says nothing. */
    says: z.string(),
    /** seems-free: nothing speaks against it; only opening it tells for certain. */
    access: z.enum(['seems-free', 'used-here', 'used-elsewhere', 'not-permitted']),
    /** Why it cannot be used and what to do, in one sentence. */
    why: z.string().optional(),
    /** The bus of this job that names it. */
    busId: id.optional(),
  }),
  z.strictObject({
    kind: z.literal('practice'),
    /** As a link of a practice job names it. */
    bus: z.string(),
    framing: z.enum(['rtu', 'modbus-tcp']),
    /** The simulated port or socket; null while its adapter is pulled. */
    at: z.string().nullable(),
    busId: id.optional(),
  }),
])

/** Line format; null on Modbus TCP, which has none. */
const format = serialFormat.nullable()

export const scanFound = z.strictObject({
  unit: z.int(),
  format,
  /** Null where it refuses the register asked for: it is there all the same. */
  tookMs: z.number().nullable(),
  /** Profiles whose identity tests all agree with what this unit holds. */
  profileIds: z.array(z.string()),
})

export const scanView = z.strictObject({
  state: z.enum(['running', 'ended']),
  startedAt: z.string(),
  /** What is being tried; null before the first request and after the last. */
  trying: z.strictObject({ unit: z.int(), format }).nullable(),
  asked: z.int(),
  of: z.int(),
  /** The longest that the whole takes on a quiet line, and what is left of it, in ms. */
  atMostMs: z.number(),
  leftMs: z.number(),
  found: z.array(scanFound),
  /** Something answered, but not soundly. */
  unclear: z.array(z.strictObject({ unit: z.int(), format, why: z.string() })),
  /** Why it ended early; null where it went through all. */
  endedBy: z.string().nullable(),
})

export const heardView = z.strictObject({
  state: z.enum(['listening', 'ended']),
  startedAt: z.string(),
  /** How long it listens, and has listened, in ms. */
  forMs: z.number(),
  heardMs: z.number(),
  bytes: z.int(),
  /** answers: sound answers without requests, as on the answering pair of a four-wire line. */
  verdict: z.enum(['silent', 'other-master', 'answers', 'noise']),
  /** What that means and what to do next. */
  says: z.string(),
  /** What another master asks: unit, function, how often (median, null until heard twice). */
  asks: z.array(z.strictObject({ unit: z.int(), function: z.int(), times: z.int(), everyMs: z.number().nullable() })),
  /** Units whose sound answers were heard. */
  answersFrom: z.array(z.int()),
  /** Bytes that belong to no sound frame. */
  strayBytes: z.int(),
})

export const tapView = z.strictObject({
  state: z.enum(['running', 'ended', 'failed']),
  /** Name of the file in the job's folder `taps`. */
  file: z.string(),
  startedAt: z.string(),
  frames: z.int(),
  /** Why it failed, in one sentence. */
  why: z.string().optional(),
})

/** What is done with a bus besides opening it. Progress is told in the topics `scan`, `heard` and `tap`, keyed by bus. */
export const lineCalls = {
  'ports.list': { request: nothing, reply: resultOf(z.strictObject({ ports: z.array(portView) }), refusal) },
  /** Looks for units with reads only. The bus is taken for it and, where it was open, opened again at the end. */
  'bus.scan': {
    request: z.strictObject({
      busId: id,
      units: z.array(z.int().min(0).max(255)).min(1).max(256),
      /** Line formats: the one the bus is set to, or all usual ones after it. Without meaning on Modbus TCP. */
      formats: z.enum(['as-set', 'usual']),
      /** The indicator expected: its default format and address come first. */
      profileId: z.string().optional(),
      /** How long a unit may take to begin its answer. */
      answerMs: z.int().min(10).max(10_000),
    }),
    /** Begun; `atMostMs` is said before the first byte leaves. */
    reply: resultOf(z.strictObject({ atMostMs: z.number(), of: z.int() }), begun),
  },
  'bus.scan-stop': { request: onBus, reply: resultOf(nothing, refusal) },
  /** Listens without sending; requests wait meanwhile. Serial lines only. */
  'bus.listen': {
    request: z.strictObject({ busId: id, seconds: z.int().min(1).max(120) }),
    reply: resultOf(nothing, begun),
  },
  'bus.listen-stop': { request: onBus, reply: resultOf(nothing, refusal) },
  /** Saves every frame with its time to a file beside the job, until it is stopped. */
  'bus.tap-start': { request: onBus, reply: resultOf(z.strictObject({ file: z.string() }), refusal) },
  'bus.tap-stop': { request: onBus, reply: resultOf(z.strictObject({ file: z.string() }), refusal) },
} as const

export type PortView = z.infer<typeof portView>
export type ScanView = z.infer<typeof scanView>
export type HeardView = z.infer<typeof heardView>
export type TapView = z.infer<typeof tapView>
