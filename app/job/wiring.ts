import { z } from 'zod'
import { decimalText } from '../quantity/decimal-text.ts'
import { quantityText } from '../quantity/quantity-text.ts'

const text = z.string().max(80)

export const conductor = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('awg'), gauge: z.int().min(0).max(40) }),
  z.strictObject({
    kind: z.literal('square-millimetres'),
    section: decimalText,
    stranding: z.enum(['solid-or-stranded', 'flexible']),
    tinned: z.boolean(),
  }),
])

/** A length of cable; one lead has its ohms there and not back. Absent = the length is not stated yet. */
export const cableRun = z.strictObject({ length: quantityText.optional(), conductor })

/** Ends of a sensor's leads. */
export const leadRole = z.enum(['excitation+', 'sense+', 'signal+', 'signal-', 'sense-', 'excitation-', 'shield'])

/** Anything else in every lead: a barrier, slip rings, long terminals. `ohms` is that of one lead; absent = not stated yet. */
export const seriesPart = z.strictObject({
  what: text,
  ohms: quantityText.optional(),
  between: z.enum(['indicator-and-box', 'box-and-sensor']),
})

export const wiring = z.strictObject({
  wires: z.union([z.literal(4), z.literal(6)]).optional(),
  /** Where the two sense leads meet the excitation, with six wires. */
  senseAt: z.enum(['indicator', 'junction-box', 'sensor']).optional(),
  /** Absent = one where there is more than one sensor. */
  junctionBox: z.boolean().optional(),
  /** From the indicator to the junction box; without a box to the end of the sensor's own cable. */
  cable: cableRun.optional(),
  /** What lengthens each sensor's own cable up to the junction box. */
  sensorExtension: cableRun.optional(),
  /** The cable that each sensor was calibrated with is inside its certificate: only what was cut off or joined since counts. */
  ownCable: z.strictObject({ conductor, calibrated: quantityText.optional(), now: quantityText.optional() }).optional(),
  /** Of the copper; 20 °C where it is not stated. */
  temperature: quantityText.optional(),
  series: z.array(seriesPart).max(20).optional(),
  /** Colours of this sensor's leads by the set that somebody chose or typed from the data sheet. */
  leads: z.strictObject({ set: text, colours: z.partialRecord(leadRole, text) }).optional(),
  /** Ohms between two leads as read at a meter, by pair ("excitation+ excitation-"). */
  measuredOhms: z.record(z.string().max(40), decimalText).optional(),
})

export type Wired = z.infer<typeof wiring>
export type CableRun = z.infer<typeof cableRun>
export type ConductorText = z.infer<typeof conductor>
export type LeadRole = z.infer<typeof leadRole>
export type SeriesPart = z.infer<typeof seriesPart>
