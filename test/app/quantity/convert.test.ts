import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { convert, convertDifference, convertThroughGravity, dimensionOf, explainConvertFailure } from '../../../app/quantity/convert.ts'
import { exact, exactDecimal, toSignificant } from '../../../app/quantity/exact.ts'
import { type UnitId, unitIds } from '../../../app/quantity/units.ts'

const converted = (value: string, from: UnitId, to: UnitId) => {
  const result = convert(exact(value), from, to)
  if (!result.ok) throw new Error(result.failure.kind)
  return result.value
}

describe('conversion within a dimension', () => {
  // NIST SP 811 (2008) App. B.8 and B.6: definitions
  it('is exact', () => {
    expect(exactDecimal(converted('1', 'lb', 'kg'))).toBe('0.45359237')
    expect(exactDecimal(converted('10', 'kN', 'N'))).toBe('10000')
    expect(exactDecimal(converted('1', 'ton-short', 'lb'))).toBe('2000')
    expect(exactDecimal(converted('1', 'atm', 'Torr'))).toBe('760')
    expect(exactDecimal(converted('2.0010', 'mV/V', 'uV/V'))).toBe('2001')
  })

  // SP 811 B.8: psi 6.894757 E+03 Pa
  it('of 100 psi to bar agrees with the published factor', () => {
    expect(toSignificant(converted('100', 'psi', 'bar'), 7)).toBe('6.894757')
  })

  // t/degC = T/K - 273.15 and t/degC = (t/degF - 32)/1.8: NIST SP 811 (2008) B.8, from memory (regression check)
  it('minds the offset of temperatures', () => {
    expect(exactDecimal(converted('0', 'degC', 'K'))).toBe('273.15')
    expect(exactDecimal(converted('212', 'degF', 'degC'))).toBe('100')
    expect(exactDecimal(converted('-40', 'degC', 'degF'))).toBe('-40')
  })

  it('leaves the offset out of differences', () => {
    const difference = convertDifference(exact('10'), 'degC', 'degF')
    expect(difference.ok && exactDecimal(difference.value)).toBe('18')
  })

  it('leads back to the same value, whatever the units', () => {
    fc.assert(
      fc.property(fc.constantFrom(...unitIds), fc.nat(200), fc.integer({ min: -(10 ** 9), max: 10 ** 9 }), (from, pick, value) => {
        const family = unitIds.filter((id) => dimensionOf(id) === dimensionOf(from))
        const to = family[pick % family.length] ?? from
        expect(converted('1', from, from).equals(exact('1'))).toBe(true)
        const there = convert(exact(`${value}`), from, to)
        if (!there.ok) throw new Error(there.failure.kind)
        const back = convert(there.value, to, from)
        expect(back.ok && back.value.equals(exact(`${value}`))).toBe(true)
      }),
      { numRuns: 200 },
    )
  })
})

describe('conversion across dimensions', () => {
  it('is refused, and mass to force asks for gravity', () => {
    expect(convert(exact('1'), 'bar', 'kg')).toEqual({ ok: false, failure: { kind: 'different-dimensions', from: 'bar', to: 'kg' } })
    expect(convert(exact('1'), 'kg', 'kN')).toEqual({ ok: false, failure: { kind: 'needs-gravity', from: 'kg', to: 'kN' } })
    expect(convert(exact('1'), 'mV', 'mV/V')).toEqual({ ok: false, failure: { kind: 'different-dimensions', from: 'mV', to: 'mV/V' } })
    expect(explainConvertFailure({ kind: 'needs-gravity', from: 'kg', to: 'kN' })).toMatch(/gravity/)
  })

  // SP 811 B.8: kilogram-force is the weight of 1 kg at 9.80665 m/s2
  it('goes through a stated gravity either way', () => {
    const gravity = exact('9.80665')
    const force = convertThroughGravity(exact('500'), 'kg', 'kgf', gravity)
    expect(force.ok && exactDecimal(force.value)).toBe('500')
    const mass = convertThroughGravity(exact('4.903325'), 'kN', 'kg', gravity)
    expect(mass.ok && exactDecimal(mass.value)).toBe('500')
    expect(convertThroughGravity(exact('1'), 'kg', 'bar', gravity).ok).toBe(false)
    expect(() => convertThroughGravity(exact('1'), 'kg', 'N', exact('0'))).toThrow(RangeError)
  })
})
