import type { Register } from '../profile/schema.ts'
import { convert } from '../quantity/convert.ts'
import { type Exact, exact } from '../quantity/exact.ts'
import type { UnitId } from '../quantity/units.ts'
import { unitMeant } from './reading-settings.ts'

/** Quantity that an option's meaning states ("3.5 mV/V", "10 V"), in one of the units wanted; undefined where it states none of them. */
export function quantityStated(means: string, wanted: UnitId): Exact | undefined {
  const parts = /^(\d+(?:\.\d+)?)\s*(\S.*)$/.exec(means.replace('\u00b1', '').trim())
  const unit = parts?.[2] === undefined ? undefined : unitMeant(parts[2])
  if (parts?.[1] === undefined || unit === undefined) return undefined
  const value = convert(exact(parts[1]), unit, wanted)
  return value.ok ? value.value : undefined
}

/** Excitation in V that a value of its register states; as one of its options, or as a number of volts. */
export const excitationStated = (register: Register, value: string): Exact | undefined =>
  quantityStated(register.options ? value : `${value} V`, 'V')
