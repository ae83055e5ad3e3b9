import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { formatDecimal } from '../../../app/quantity/format.ts'
import { parseNumber } from '../../../app/quantity/typed-number.ts'

const read = (text: string, sign: '.' | ',') => {
  const result = parseNumber(text, sign)
  return result.ok ? result.value : result.failure.kind === 'ambiguous-number' ? result.failure.readings : result.failure.kind
}

describe('a typed number', () => {
  it.each([
    ['2.0010', '.', '2.0010'],
    ['2,0010', ',', '2.0010'],
    ['2,5', '.', '2.5'],
    ['1 200', '.', '1200'],
    ['1\u2009200,5', ',', '1200.5'],
    ['1\u00a0200\u00a0000', '.', '1200000'],
    ["1'200.5", '.', '1200.5'],
    ['1,234.5', '.', '1234.5'],
    ['1.234,5', '.', '1234.5'],
    ['1,234,567', '.', '1234567'],
    ['1.234.567', '.', '1234567'],
    ['0,500', '.', '0.500'],
    ['1.234', '.', '1.234'],
    ['1,234', ',', '1.234'],
    ['0.123 45', '.', '0.12345'],
    ['\u22123.2', '.', '-3.2'],
    ['+5', '.', '5'],
    ['-0.00', '.', '0.00'],
    ['007', '.', '7'],
    ['.5', '.', '0.5'],
    ['1e3', '.', '1000'],
    ['2.5E-3', '.', '0.0025'],
    ['1.20e1', '.', '12.0'],
    ['2\u00d710\u00b3', '.', '2000'],
    ['2 x 10^-2', '.', '0.02'],
  ] as const)('"%s" in a job that writes "%s" is %s', (text, sign, value) => {
    expect(read(text, sign)).toBe(value)
  })

  it.each([
    ['1,234', '.', ['1234', '1.234']],
    ['1.234', ',', ['1234', '1.234']],
    ['-12,500', '.', ['-12500', '-12.500']],
  ] as const)('"%s" in a job that writes "%s" is not guessed', (text, sign, readings) => {
    expect(read(text, sign)).toEqual(readings)
  })

  it.each(['', 'kg', '1.2.3', '1 20', '1,23,4', '1 200.5 3 4', '--5', '1e99', '.', '1..2', '12,34,567'])('"%s" is no number', (text) => {
    expect(read(text, '.')).toBe('not-a-number')
  })

  it('reads back what is printed, in either decimal sign', () => {
    const decimals = fc
      .tuple(fc.bigInt({ min: -(10n ** 15n), max: 10n ** 15n }), fc.stringMatching(/^\d{0,12}$/))
      .map(([whole, fraction]) => `${whole}${fraction && `.${fraction}`}`)
    fc.assert(
      fc.property(decimals, fc.constantFrom('.' as const, ',' as const), (text, sign) => {
        expect(read(formatDecimal(text, sign), sign)).toBe(text)
      }),
      { numRuns: 300 },
    )
  })
})
