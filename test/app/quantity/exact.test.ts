import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  compareExact,
  exact,
  exactDecimal,
  exactFromNumber,
  orderOf,
  roundToInteger,
  toDecimal,
  toSignificant,
} from '../../../app/quantity/exact.ts'

describe('exact numbers from text', () => {
  it('are exact where binary floating point is not', () => {
    expect(exact('0.1').add(exact('0.2')).equals(exact('0.3'))).toBe(true)
    expect(exact('101325/760').mul(exact('760')).equals(exact('101325'))).toBe(true)
  })

  it('keeps digits far beyond a double', () => {
    expect(exactDecimal(exact('12345678901234567890.12345678901234567891'))).toBe('12345678901234567890.12345678901234567891')
  })

  for (const text of ['', '1,5', '1e3', 'NaN', '.5', '1/2/3', ' 1'])
    it(`refuses "${text}" as a programming mistake`, () => {
      expect(() => exact(text)).toThrow(RangeError)
    })
})

describe('the exact value of a double', () => {
  // IEEE 754-2019 binary64: 0.1 is 3602879701896397 / 2^55
  it('is what its bits say', () => {
    expect(exactFromNumber(0.1).equals(exact('3602879701896397/36028797018963968'))).toBe(true)
    expect(exactFromNumber(-2.5).equals(exact('-2.5'))).toBe(true)
    expect(exactFromNumber(2 ** 60).equals(exact('1152921504606846976'))).toBe(true)
    expect(exactFromNumber(0).equals(exact('0'))).toBe(true)
    expect(() => exactFromNumber(Number.NaN)).toThrow(RangeError)
  })

  it('comes back as the same double, subnormal ones too', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e15, max: 1e15 }), (value) => {
        const back = exactFromNumber(value)
        const decimal = exactDecimal(back)
        expect(decimal).toBeDefined()
        expect(Number(decimal)).toBe(value === 0 ? 0 : value)
      }),
      { numRuns: 200 },
    )
  })
})

describe('rounding', () => {
  // ISO 80000-1:2009 Annex B, rule B (the greater magnitude of two equally near)
  it.each([
    ['2.5', 0, '3'],
    ['-2.5', 0, '-3'],
    ['1.005', 2, '1.01'],
    ['0.125', 2, '0.13'],
    ['0.124999', 2, '0.12'],
    ['-0.004', 2, '0.00'],
    ['1234.5678', 1, '1234.6'],
    ['7', 3, '7.000'],
  ])('%s to %i decimals is %s', (text, decimals, rounded) => {
    expect(toDecimal(exact(text), decimals)).toBe(rounded)
  })

  it('is never off by more than half of the last digit', () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(10n ** 20n), max: 10n ** 20n }),
        fc.integer({ min: 1, max: 10 ** 6 }),
        fc.integer({ min: 0, max: 8 }),
        (n, d, decimals) => {
          const value = exact(`${n}/${d}`)
          const half = exact(`0.5/1${'0'.repeat(decimals)}`)
          expect(compareExact(value.sub(exact(toDecimal(value, decimals))).abs(), half)).toBeLessThanOrEqual(0)
        },
      ),
      { numRuns: 200 },
    )
  })

  it.each([
    ['0.000123456', 3, '0.000123'],
    ['9.996', 3, '10.0'],
    ['0.9996', 3, '1.00'],
    ['123456', 3, '123456'],
    ['2', 5, '2.0000'],
    ['0', 3, '0'],
  ])('%s to %i significant digits is %s', (text, digits, rounded) => {
    expect(toSignificant(exact(text), digits)).toBe(rounded)
  })

  it('counts whole numbers from either side alike', () => {
    expect(roundToInteger(exact('0.5'))).toBe(1n)
    expect(roundToInteger(exact('-0.5'))).toBe(-1n)
    expect(roundToInteger(exact('0.49'))).toBe(0n)
  })
})

it('gives the finite decimal where there is one', () => {
  expect(exactDecimal(exact('1/8'))).toBe('0.125')
  expect(exactDecimal(exact('3/25'))).toBe('0.12')
  expect(exactDecimal(exact('500.00'))).toBe('500')
  expect(exactDecimal(exact('1/3'))).toBeUndefined()
})

it.each([
  ['350', 2],
  ['0.0042', -3],
  ['1', 0],
  ['10', 1],
  ['0.999', -1],
  ['-1000', 3],
])('%s begins at ten to the power %i', (text, order) => {
  expect(orderOf(exact(text))).toBe(order)
})
