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

const done = resultOf(nothing, refusal)

/** Hands on the practice bench. They act on the simulated machine, never on a real one. */
export const practiceCalls = {
  'practice.load': { request: z.strictObject({ pointId: id, load: decimalText }), reply: done },
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

export type PracticeView = z.infer<typeof practiceView>
