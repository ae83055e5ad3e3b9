import { describe, expect, it } from 'vitest'
import { formatQuantity } from '../../../app/quantity/format.ts'
import { type Expectation, type ParseFailure, parseQuantity } from '../../../app/quantity/parse.ts'
import { unitIds } from '../../../app/quantity/units.ts'

const point: Expectation = { decimalSign: '.' }
const parsed = (text: string, expected: Expectation = point) => {
  const result = parseQuantity(text, expected)
  return result.ok ? `${result.value.value} ${result.value.unit}` : result.failure.kind
}
const failure = (text: string, expected: Expectation = point): ParseFailure => {
  const result = parseQuantity(text, expected)
  if (result.ok) throw new Error(`"${text}" was taken`)
  return result.failure
}

it('nothing typed asks for a number as the job writes it', () => {
  expect(failure('').why).toBe('A number is needed here, like 2.0010.')
  expect(failure(' ', { decimalSign: ',' }).why).toBe('A number is needed here, like 2,0010.')
})

describe('a typed quantity', () => {
  it.each([
    ['2,5 t', '2.5 t'],
    ['10 kN', '10 kN'],
    ['0.5 klbf', '0.5 klbf'],
    ['1 200 kg', '1200 kg'],
    ['1\u2009200\u00a0kg', '1200 kg'],
    ['2.0010 mV/V', '2.0010 mV/V'],
    ['500kg', '500 kg'],
    ['1e3N', '1000 N'],
    ['3 KN', '3 kN'],
    ['5 lbs', '5 lb'],
    ['7 Nm', '7 N.m'],
    ['7 N\u00b7m', '7 N.m'],
    ['4 ft-lb', '4 lbf.ft'],
    ['350 \u03a9', '350 ohm'],
    ['2.5 \u00b5V', '2.5 uV'],
    ['20 \u00b0C', '20 degC'],
    ['1 kg/cm\u00b2', '1 kgf/cm2'],
    ['2 N/mm\u00b2', '2 MPa'],
    ['3 inH\u2082O (60 \u00b0F)', '3 inH2O-60F'],
    ['5 mN', '5 mN'],
    ['5 MN', '5 MN'],
    ['3 short tons', '3 ton-short'],
    ['3 oz av', '3 oz'],
  ])('"%s" is %s', (text, quantity) => {
    expect(parsed(text)).toBe(quantity)
  })

  it('takes the unit of the field only where none is typed', () => {
    expect(parsed('500', { decimalSign: '.', unit: 'kg' })).toBe('500 kg')
    expect(parsed('500 t', { decimalSign: '.', unit: 'kg' })).toBe('500 t')
    expect(parsed('500')).toBe('unit-missing')
  })

  it.each(['3 ton', '3 oz', '3 M', '3 mn', '3 MV/V', '3 inWC', '3 cwt', '3 T', '3 pound'])('"%s" is not guessed', (text) => {
    const { kind, readings } = failure(text)
    expect(kind).toBe('ambiguous-unit')
    expect(readings.length).toBeGreaterThan(0)
  })

  it('lets the field decide a word, but never a letter that only begins a unit', () => {
    expect(parsed('3 pound', { decimalSign: '.', dimensions: ['mass'] })).toBe('3 lb')
    expect(parsed('3 ton', { decimalSign: '.', dimensions: ['mass'] })).toBe('ambiguous-unit')
    expect(parsed('3 M', { decimalSign: '.', dimensions: ['pressure'] })).toBe('ambiguous-unit')
  })

  it('says what is ambiguous, where, and both readings', () => {
    expect(failure('  1,234 kg')).toEqual({
      kind: 'ambiguous-number',
      at: { from: 2, to: 7 },
      why: expect.stringContaining('1.234'),
      readings: [
        { value: '1234', unit: 'kg' },
        { value: '1.234', unit: 'kg' },
      ],
    })
    expect(failure('3 ton ')).toMatchObject({ at: { from: 2, to: 5 }, why: expect.stringContaining('short ton, 2000 lb') })
  })

  it('names another kind of quantity and what fits', () => {
    const { kind, why } = failure('5 kg', { decimalSign: '.', dimensions: ['force'] })
    expect(kind).toBe('wrong-dimension')
    expect(why).toContain('kN')
  })

  it('sends gauge and absolute to the load path', () => {
    expect(failure('12 psig').why).toMatch(/gauge, absolute/)
  })

  it.each([
    ['', 'empty'],
    ['kg', 'not-a-number'],
    ['5 furlong', 'unknown-unit'],
    ['1.2.3 kg', 'not-a-number'],
    ['5 constructor', 'unknown-unit'],
    ['5 __proto__', 'unknown-unit'],
  ])('"%s" is refused: %s', (text, kind) => {
    expect(failure(text).kind).toBe(kind)
  })

  it('reads back every unit as it is printed, but for the ounce, which has to be spelt out', () => {
    for (const id of unitIds)
      expect([id, parsed(formatQuantity('12.50', id, '.'))]).toEqual([id, id === 'oz' ? 'ambiguous-unit' : `12.50 ${id}`])
  })
})
