import { z } from 'zod'
import { id } from '../job/schema.ts'
import { busFailure } from './bus-failure.ts'
import { refusal, resultOf } from './replies.ts'
import { identityView, writeFailure, writePreview, writeReceipt } from './views.ts'

const busProblem = z.union([busFailure, refusal])
const address = z.int().min(1).max(247)

/** Who answers at an address: nobody, one unit, or something that is not sound, such as two at once. */
const answers = z.enum(['nobody', 'one', 'unclear'])

/** Giving indicators their addresses: a known one another, and new ones theirs, one after another. */
export const addressCalls = {
  /** Lists what giving the indicator this address would do; writing it is `settings.write` with this preview. */
  'address.preview': { request: z.strictObject({ indicatorId: id, address }), reply: resultOf(writePreview, busProblem) },
  /** Looks, with reads only, for the new unit that is to become this indicator: at `at`, or the profile's factory address. */
  'address.look': {
    request: z.strictObject({ indicatorId: id, at: address.optional() }),
    reply: resultOf(
      z.strictObject({
        at: z.int(),
        /** The indicator's own address, which the unit would get. */
        to: z.int(),
        answers,
        /** For `address.give`; null where there is not exactly one unit. */
        lookId: z.string().nullable(),
        identity: identityView.nullable(),
        /** What to do where it is unclear. */
        advice: z.string(),
      }),
      busProblem,
    ),
  },
  /** Gives the unit that was found its address and follows it there; says who answers at the old one afterwards. */
  'address.give': {
    request: z.strictObject({ lookId: z.string(), agreesWithPanel: z.boolean() }),
    reply: resultOf(z.strictObject({ receipt: writeReceipt, answersAtOld: answers }), writeFailure),
  },
} as const
