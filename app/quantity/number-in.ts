import { fail, ok, type Result } from '../result.ts'
import { quantityIn } from './convert.ts'
import type { DecimalText } from './decimal-text.ts'
import { exactDecimal } from './exact.ts'
import type { DecimalSign } from './format.ts'
import { parseNumber, parseQuantity } from './parse.ts'
import { splitNumber } from './typed-number.ts'
import { type UnitId, units } from './units.ts'

/** The number that a text means where one unit is counted in: as typed without a unit, converted exactly or not at all with another one of its kind. */
export function numberIn(unit: UnitId, text: string, decimalSign: DecimalSign): Result<DecimalText, { why: string }> {
  const plain = parseNumber(text, decimalSign)
  if (plain.ok) return plain
  if (!splitNumber(text.trim())?.rest.trim()) return fail({ why: plain.failure.why })
  const { dimension, symbol } = units[unit]
  const typed = parseQuantity(text, { decimalSign, dimensions: [dimension] })
  if (!typed.ok) return fail({ why: `${typed.failure.why} A number alone is taken in ${symbol}.` })
  if (typed.value.unit === unit) return ok(typed.value.value)
  const converted = quantityIn(typed.value, unit)
  const decimal = converted.ok ? exactDecimal(converted.value) : undefined
  return decimal === undefined ? fail({ why: `${text.trim()} is no finite decimal in ${symbol}; type it in ${symbol}.` }) : ok(decimal)
}
