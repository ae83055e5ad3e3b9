import { z } from 'zod'
import { id } from '../job/schema.ts'
import { unitId } from '../quantity/quantity-text.ts'
import { refusal, resultOf } from './replies.ts'
import { difference } from './views.ts'

export const visitName = z.strictObject({ visitId: id, startedAt: z.string(), by: z.string() })

/** Decimal texts. Null with a reason in `remarks` where it cannot be said. `resolved`: more than rounding of the readings explains. */
export const pointDrift = z.strictObject({
  pointId: id,
  tag: z.string(),
  unit: unitId,
  /** Sensitivity that the scaling values held imply, mV/V at capacity, as left then and as found now. */
  implied: z.strictObject({ since: visitName, before: z.string(), now: z.string(), changePercent: z.string() }).nullable(),
  /** Error where the checks began: with nothing on, on an absolute transducer at air pressure. In the unit of the point. */
  zero: z
    .strictObject({
      since: visitName,
      before: z.string(),
      now: z.string(),
      drift: z.string(),
      intervals: z.string(),
      resolved: z.boolean(),
    })
    .nullable(),
  /** Reading per load between no load and the largest load of each check. */
  span: z
    .strictObject({
      since: visitName,
      loadBefore: z.string(),
      loadNow: z.string(),
      driftPercent: z.string(),
      roundingPercent: z.string(),
      resolved: z.boolean(),
    })
    .nullable(),
  remarks: z.array(z.string()),
})

export const visitComparison = z.strictObject({
  later: visitName,
  indicators: z.array(
    z.strictObject({
      indicatorId: id,
      name: z.string(),
      /** Null, and `why`, where there is nothing to compare. */
      since: visitName.nullable(),
      compared: z.int(),
      /** Settings that are not as they were left: `held` as left then, `intended` as found now. */
      moved: z.array(difference),
      why: z.string().optional(),
    }),
  ),
  points: z.array(pointDrift),
})

export const visitCalls = {
  /**
   * What is otherwise in a visit (the latest, unless one is named) as found than it was as left before:
   * in the visit named, else in the latest earlier one that says something of the indicator or point.
   */
  'visits.compare': {
    request: z.strictObject({ later: id.optional(), earlier: id.optional() }),
    reply: resultOf(visitComparison, refusal),
  },
} as const

export type VisitName = z.infer<typeof visitName>
export type PointDrift = z.infer<typeof pointDrift>
export type VisitComparison = z.infer<typeof visitComparison>
