import { z } from 'zod'
import { id } from '../job/schema.ts'
import { decimalText } from '../quantity/decimal-text.ts'
import { unitId } from '../quantity/quantity-text.ts'
import { busFailure } from './bus-failure.ts'
import { nothing, refusal, resultOf } from './replies.ts'

/** What a zero or tare takes off, and what has to be confirmed for it. */
export const takenOff = z.strictObject({
  /** Reading that becomes nought, in `unit`; null where the indicator gives no number now. */
  amount: decimalText.nullable(),
  unit: unitId,
  /** Share of maximum load, to a tenth; null without an amount. */
  percentOfMaximum: decimalText.nullable(),
  limitPercent: decimalText,
  /**
   * above-limit: more than the zero-setting limit; confirm `amount`. amount-unknown: confirm what the panel shows.
   * vented: a pressure point; somebody has to have vented it.
   */
  confirm: z.array(z.enum(['above-limit', 'amount-unknown', 'vented'])),
})

/** Nothing was sent: this has to be confirmed first, for this point alone. */
const confirmFirst = z.strictObject({ kind: z.literal('confirm-first'), why: z.string(), takenOff })

const given = { pointId: id }

/** Commands that act on an indicator. */
export const commandCalls = {
  /** Reads the point and says what a zero or tare would take off. Changes nothing. */
  'indicator.preview-command': {
    request: z.strictObject({ ...given, command: z.enum(['zero', 'tare']) }),
    reply: resultOf(takenOff, z.union([busFailure, refusal])),
  },
  /** A zero or tare reads again first; what it takes off is confirmed where `takenOff.confirm` asks for it. */
  'indicator.command': {
    request: z.strictObject({
      ...given,
      command: z.enum(['zero', 'tare', 'clear-tare', 'shunt-on', 'shunt-off']),
      confirmed: z
        .strictObject({
          /** The reading that somebody agreed to lose; refused where it is more than one scale interval from what is read now. */
          amount: decimalText.optional(),
          vented: z.literal(true).optional(),
        })
        .optional(),
    }),
    reply: resultOf(nothing, z.union([busFailure, refusal, confirmFirst])),
  },
} as const

export type TakenOff = z.infer<typeof takenOff>
