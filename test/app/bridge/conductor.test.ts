import { describe, expect, it } from 'vitest'
import { type Conductor, explainConductorFailure, leadResistance, resistancePerKilometre } from '../../../app/bridge/conductor.ts'
import { celsius, metres } from '../../../app/quantity/double.ts'

const perKilometre = (conductor: Conductor) => {
  const result = resistancePerKilometre(conductor)
  if (!result.ok) throw new Error(explainConductorFailure(result.failure))
  return result.value
}

describe('wire gauges', () => {
  // Standard annealed-copper wire table, ohm per 1000 ft at 20 °C: published wire tables, traceable to NBS Circular 31 / Handbook 100
  it.each([
    [18, '6.385'],
    [19, '8.051'],
    [20, '10.15'],
    [21, '12.80'],
    [22, '16.14'],
    [23, '20.36'],
    [24, '25.67'],
    [25, '32.37'],
    [26, '40.81'],
    [27, '51.47'],
    [28, '64.90'],
  ])('AWG %d has %s ohm per 1000 ft, within a digit of the published table', (gauge, published) => {
    const lastDigit = 10 ** -(published.split('.')[1]?.length ?? 0)
    expect(Math.abs(perKilometre({ kind: 'awg', gauge }) * 0.3048 - Number(published))).toBeLessThan(lastDigit)
  })

  it('that do not exist are refused', () => {
    expect(resistancePerKilometre({ kind: 'awg', gauge: 22.5 }).ok).toBe(false)
    expect(resistancePerKilometre({ kind: 'awg', gauge: 41 }).ok).toBe(false)
  })
})

describe('cross-sections', () => {
  // IEC 60228, maximum d.c. resistance at 20 °C, as three published reproductions give it
  it.each([
    ['0.5', 36.0, 36.7, 39.0, 40.1],
    ['0.75', 24.5, 24.8, 26.0, 26.7],
    ['1.0', 18.1, 18.2, 19.5, 20.0],
    ['1.5', 12.1, 12.2, 13.3, 13.7],
    ['2.5', 7.41, 7.56, 7.98, 8.21],
    ['4', 4.61, 4.7, 4.95, 5.09],
  ])('%s mm²: solid or stranded, plain and tinned; flexible, plain and tinned', (section, ...published) => {
    const of = (stranding: 'solid-or-stranded' | 'flexible', tinned: boolean) =>
      perKilometre({ kind: 'square-millimetres', section, stranding, tinned })
    expect([of('solid-or-stranded', false), of('solid-or-stranded', true), of('flexible', false), of('flexible', true)]).toEqual(published)
  })

  // Below 0.5 mm² IEC 60228 ends; one published listing of bunched wire
  it.each([
    ['0.14', 134, 138],
    ['0.22', 96, 99],
    ['0.25', 76, 79],
    ['0.34', 53, 56],
  ])('%s mm², plain and tinned', (section, ...published) => {
    const of = (tinned: boolean) => perKilometre({ kind: 'square-millimetres', section, stranding: 'flexible', tinned })
    expect([of(false), of(true)]).toEqual(published)
  })

  it('outside the table are refused with what it has', () => {
    const result = resistancePerKilometre({ kind: 'square-millimetres', section: '0.3', stranding: 'flexible', tinned: false })
    expect(!result.ok && explainConductorFailure(result.failure)).toContain('0.34')
  })
})

describe('one lead', () => {
  const lead = (length: number, temperature: number) => {
    const result = leadResistance({ kind: 'awg', gauge: 22 }, metres(length), celsius(temperature))
    return result.ok ? result.value : Number.NaN
  }

  // IEC 60028: 0.00393 per kelvin at 20 °C; LW-2 and LW-3
  it('of 30 m AWG 22 has 1.588902 ohm at 20 °C, 1.776233 ohm at 50 °C', () => {
    expect(lead(30, 20)).toBeCloseTo(1.588901536, 8)
    expect(lead(30, 50) / lead(30, 20)).toBeCloseTo(1 + 0.00393 * 30, 12)
    expect(lead(30, 50)).toBeCloseTo(1.776233, 6)
  })
})
