import { z } from 'zod'
import { id } from '../job/schema.ts'
import { decimalText } from '../quantity/decimal-text.ts'
import { nothing, refusal, resultOf } from './replies.ts'

/** What the practice bench is like now, as somebody beside it sees it. */
export const practiceView = z.strictObject({
  /** UTC instant at which this bench was made: every opening of the job makes one, as new. */
  since: z.string(),
  /** Load now on each point of the bench, as typed, in the point's unit. */
  loads: z.record(id, z.string()),
  buses: z.record(
    id,
    z.strictObject({
      cable: z.boolean(),
      /** Null where the bus has no adapter in this computer, as over sockets. */
      adapter: z.boolean().nullable(),
      /** How often another master asks on this line; null while there is none. Modbus TCP cannot have one. */
      otherMasterEveryMs: z.number().nullable(),
    }),
  ),
  /** Points whose sensors' cable is out. */
  sensorsOut: z.array(id),
  indicators: z.record(id, z.strictObject({ cable: z.boolean(), power: z.boolean() })),
})

/** One unit on a line of the bench, in the job or not, as somebody in front of it sees it. */
const benchUnit = z.strictObject({
  busId: id,
  unit: z.int(),
  indicatorId: id.nullable(),
  channels: z.array(
    z.strictObject({
      channel: z.int(),
      /** What the display shows; null where it is dark or shows dashes. */
      shows: z.string().nullable(),
      unit: z.string().nullable(),
      load: z.number(),
      loadUnit: z.string(),
    }),
  ),
})

const done = resultOf(nothing, refusal)

/** Hands on the practice bench. They act on the simulated machine, never on a real one. */
export const practiceCalls = {
  'practice.load': { request: z.strictObject({ pointId: id, load: decimalText }), reply: done },
  /** The same where no point of the job is: for a unit that is still to be described. */
  'practice.load-unit': {
    request: z.strictObject({ busId: id, unit: z.int(), channel: z.int(), load: decimalText }),
    reply: done,
  },
  /** A look at every display of the bench's lines that the job has. */
  'practice.look': { request: nothing, reply: resultOf(z.strictObject({ units: z.array(benchUnit) }), refusal) },
  /** Pulls a cable, or puts it back: of the whole bus, of one unit, of a point's sensors, or the bus's adapter out of this computer. */
  'practice.cable': {
    request: z.strictObject({
      of: z.union([
        z.strictObject({ busId: id }),
        z.strictObject({ indicatorId: id }),
        z.strictObject({ sensorsOf: id }),
        z.strictObject({ adapterOf: id }),
      ]),
      connected: z.boolean(),
    }),
    reply: done,
  },
  /** Lets another master ask on a line, or ends that (null). Once in ten seconds escapes a short first listening. */
  'practice.other-master': {
    request: z.strictObject({ busId: id, everyMs: z.int().min(50).max(60_000).nullable() }),
    reply: done,
  },
  /** Switches a unit off or on; a cycle does both, so that what was not saved is lost. */
  'practice.power': { request: z.strictObject({ indicatorId: id, power: z.enum(['off', 'on', 'cycle']) }), reply: done },
} as const

export type BenchUnitSeen = z.infer<typeof benchUnit>
export type PracticeView = z.infer<typeof practiceView>
