import { expect, it } from 'vitest'
import { numberIn } from '../../../app/quantity/number-in.ts'
import type { UnitId } from '../../../app/quantity/units.ts'

const read = (unit: UnitId, text: string, sign: '.' | ',' = '.') => {
  const number = numberIn(unit, text, sign)
  return number.ok ? number.value : number.failure.why
}

it.each<[UnitId, string, string]>([
  ['kg', '6000', '6000'],
  ['kg', '6000.00 kg', '6000.00'],
  ['kg', '6 t', '6000'],
  ['kg', '0.5t', '500'],
  ['kg', '1 lb', '0.45359237'],
  ['bar', '250 kPa', '2.5'],
  ['%', '75 %', '75'],
])('in %s "%s" is %s', (unit, text, number) => {
  expect(read(unit, text)).toBe(number)
})

it('obeys the decimal sign of the job', () => {
  expect(read('kg', '2,5 t', ',')).toBe('2500')
  expect(read('kg', '1,234 t')).toContain('can be 1234 (grouped) or 1.234 (decimal)')
})

it.each<[UnitId, string, RegExp]>([
  ['kg', '6 kN', /^kN is a unit of force; here stands a mass\. .* A number alone is taken in kg\.$/],
  ['kg', '6 tons', /^"tons" can mean .* A number alone is taken in kg\.$/],
  ['kg', '6 furlongs', /^"furlongs" is not a unit known here\. .* A number alone is taken in kg\.$/],
  ['lb', '1 kg', /^1 kg is no finite decimal in lb; type it in lb\.$/],
  ['kg', 'heavy', /^"heavy" is not a number/],
  ['kg', '', /^A number is needed here, like 2\.0010\.$/],
  ['kg', ' ', /^A number is needed here/],
])('in %s "%s" is refused with what to type', (unit, text, why) => {
  expect(read(unit, text)).toMatch(why)
})
