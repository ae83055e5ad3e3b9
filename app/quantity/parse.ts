import { fail, ok, type Result } from '../result.ts'
import type { DecimalText } from './decimal-text.ts'
import type { DecimalSign } from './format.ts'
import type { QuantityText } from './quantity-text.ts'
import { parseNumber, splitNumber } from './typed-number.ts'
import { beginnings, prefixCaseDiffers, unitsNamed } from './unit-names.ts'
import { type Dimension, type UnitId, units } from './units.ts'

export { parseNumber }

/** Why a typed text is not taken: what is wrong, where in the text, what would be right. Nothing is guessed. */
export type ParseFailure = {
  kind: 'empty' | 'not-a-number' | 'ambiguous-number' | 'unit-missing' | 'unknown-unit' | 'ambiguous-unit' | 'wrong-dimension'
  /** Characters of the typed text that it is about: from, and up to but without to. */
  at: { from: number; to: number }
  /** One sentence for people. */
  why: string
  /** What the text can mean, where it can mean several things. */
  readings: readonly (QuantityText | { value: DecimalText; unit?: undefined })[]
}

export type Expectation = {
  decimalSign: DecimalSign
  /** Dimensions that fit the field; absent = any. */
  dimensions?: readonly Dimension[]
  /** Unit of a number typed without one; absent = a unit must be typed. */
  unit?: UnitId
}

const symbols = (ids: readonly UnitId[]) => ids.map((id) => `${units[id].symbol} (${units[id].name})`).join(', ')
const examples: Partial<Record<Dimension, UnitId[]>> = {
  mass: ['kg', 't', 'lb'],
  force: ['N', 'kN', 'lbf'],
  pressure: ['bar', 'kPa', 'psi'],
  torque: ['N.m', 'lbf.ft'],
  'bridge-signal': ['mV/V'],
  voltage: ['V', 'mV'],
  resistance: ['ohm'],
}

/**
 * Reads a quantity as people type it: "2,5 t", "10 kN", "0.5 klbf", "1 200 kg", "2.0010 mV/V", "1e3 N".
 * The digits are kept as typed. Two possible readings are a failure that names both.
 */
export function parseQuantity(text: string, expected: Expectation): Result<QuantityText, ParseFailure> {
  const start = text.length - text.trimStart().length
  const end = text.trimEnd().length
  if (end <= start)
    return fail({
      kind: 'empty',
      at: { from: 0, to: text.length },
      why: `A number is needed here, like 2${expected.decimalSign}0010.`,
      readings: [],
    })
  const split = splitNumber(text.slice(start, end))
  if (!split)
    return fail({ kind: 'not-a-number', at: { from: start, to: end }, why: `"${text.trim()}" does not begin with a number.`, readings: [] })
  const numberEnd = start + split.number.trimEnd().length
  const number = parseNumber(split.number, expected.decimalSign)
  const written = split.rest.trim()
  const unitAt = { from: end - written.length, to: end }
  const unit = unitOf(written, expected)
  if (!number.ok) {
    const readings = number.failure.kind === 'ambiguous-number' ? number.failure.readings : []
    return fail({
      kind: number.failure.kind,
      at: { from: start, to: numberEnd },
      why: number.failure.why,
      readings: readings.map((value) => (unit.ok ? { value, unit: unit.value } : { value })),
    })
  }
  const value = number.value
  if (unit.ok) return ok({ value, unit: unit.value })
  return fail({
    kind: unit.failure.kind,
    at: unitAt,
    why: unit.failure.why,
    readings: unit.failure.units.map((id) => ({ value, unit: id })),
  })
}

type UnitFailure = { kind: 'unit-missing' | 'unknown-unit' | 'ambiguous-unit' | 'wrong-dimension'; why: string; units: readonly UnitId[] }

function unitOf(written: string, expected: Expectation): Result<UnitId, UnitFailure> {
  const wanted = expected.dimensions
  const right = (wanted ?? []).flatMap((d) => examples[d] ?? [])
  const like = right.length > 0 ? ` Write a unit like ${right.map((id) => units[id].symbol).join(', ')}.` : ''
  if (written === '')
    return expected.unit ? ok(expected.unit) : fail({ kind: 'unit-missing', why: `The unit is missing.${like}`, units: [] })
  const pressureKind = /^(psi|bar|mbar|kpa|mpa)\s?\(?([gad])\)?$/i.exec(written)
  if (pressureKind) {
    const [, base = ''] = pressureKind
    return fail({
      kind: 'unknown-unit',
      why: `"${written}" says gauge, absolute or differential beside the unit: choose that at the load path, and write ${base} here.`,
      units: [],
    })
  }
  const named = unitsNamed(written)
  const fitting = wanted ? named.filter((id) => wanted.includes(units[id].dimension)) : named
  const [first] = fitting
  if (first && (fitting.length > 1 || Object.hasOwn(beginnings, written) || prefixCaseDiffers(written, first)))
    return fail({ kind: 'ambiguous-unit', why: `"${written}" can mean ${symbols(fitting)}. Write the one that is meant.`, units: fitting })
  if (first) return ok(first)
  const [unfit] = named
  if (unfit && wanted)
    return fail({
      kind: 'wrong-dimension',
      why: `${units[unfit].symbol} is a unit of ${units[unfit].dimension.replace('-', ' ')}; here stands a ${wanted.map((d) => d.replace('-', ' ')).join(' or ')}.${like}`,
      units: [],
    })
  return fail({ kind: 'unknown-unit', why: `"${written}" is not a unit known here.${like}`, units: [] })
}
