import { z } from 'zod'
import { decimalText } from './decimal-text.ts'
import { unitIds } from './units.ts'

export const unitId = z.enum(unitIds)

/** A quantity as files and messages hold it: the decimal as typed, and its unit. */
export const quantityText = z.strictObject({ value: decimalText, unit: unitId })
export type QuantityText = z.infer<typeof quantityText>
