import { z } from 'zod'
import { decimalText } from '../quantity/decimal-text.ts'
import { quantityText } from '../quantity/quantity-text.ts'

const count = z.int().min(1).max(60)
const above = decimalText.refine((text) => !text.startsWith('-') && Number(text) > 0, 'above nought')
/** Degrees below a right angle. */
const acute = decimalText.refine((text) => Number(text) >= 0 && Number(text) < 90, 'from 0 to below 90 degrees')

/** One thing between load and sensors that takes or multiplies a part of the force; what each means stands in `loadpath/share.ts`. */
export const shareStep = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('lever'), loadArm: above, sensorArm: above }),
  z.strictObject({ kind: z.literal('reeving'), parts: count }),
  z.strictObject({ kind: z.literal('supports'), onSensors: count, all: count }),
  z.strictObject({ kind: z.literal('angle'), degrees: acute }),
  z.strictObject({ kind: z.literal('legs'), onSensors: count, all: count, degrees: acute }),
  z.strictObject({
    kind: z.literal('sheave'),
    turned: decimalText.refine((text) => Number(text) > 0 && Number(text) <= 180, 'above 0, to 180 degrees'),
  }),
])

/** A part that always lies on the sensors, with the part of it (percent) that the point carries; absent = all of it. */
export const structurePart = z.strictObject({ name: z.string().max(80), load: quantityText, percent: decimalText.optional() })

export const loadPath = z.strictObject({
  /** Part of the applied load that the sensors together carry, in percent; 100 for a hopper on its cells. Counts where no steps are given. */
  sharePercent: decimalText.default('100'),
  /** What the share comes from; the product of the steps takes the place of the percent. */
  shareSteps: z.array(shareStep).min(1).max(12).optional(),
  deadLoad: quantityText.optional(),
  /** What the dead load comes from; its sum takes the place of `deadLoad`. */
  structure: z.array(structurePart).min(1).max(40).optional(),
  gravityHere: quantityText.optional(),
  /** Where `gravityHere` was computed from latitude (degrees) and height (m) and not measured. */
  gravityFrom: z.strictObject({ latitude: decimalText, height: decimalText }).optional(),
  pressure: z.enum(['gauge', 'absolute', 'differential']).optional(),
  /** Column of fluid between process and sensor; a height above the sensor is positive and adds. */
  head: z.strictObject({ height: quantityText, density: quantityText }).optional(),
})

export type LoadPath = z.infer<typeof loadPath>
export type ShareStep = z.infer<typeof shareStep>
export type StructurePart = z.infer<typeof structurePart>
