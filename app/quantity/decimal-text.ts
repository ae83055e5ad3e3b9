import { z } from 'zod'

/** A decimal number as typed, with a point: "2.0010" keeps its last nought. Never a binary float. */
export const decimalText = z
  .string()
  .max(60)
  .regex(/^-?(0|[1-9]\d*)(\.\d+)?$/, 'a decimal number with a point, e.g. 2.0010')
export type DecimalText = z.infer<typeof decimalText>
