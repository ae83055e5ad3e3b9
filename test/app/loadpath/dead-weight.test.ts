import { describe, expect, it } from 'vitest'
import { airDensity, conventionalWeightForce, deadWeightForce, trueMass } from '../../../app/loadpath/dead-weight.ts'
import { celsius, kilograms, kilogramsPerCubicMetre, metresPerSecondSquared, pascals } from '../../../app/quantity/double.ts'

const [mass, gravity] = [kilograms(500), metresPerSecondSquared(9.81250755)]
const [air, density] = [kilogramsPerCubicMetre(1.19), kilogramsPerCubicMetre(7850)]

// Formulas: OIML D 28:2004, R 111-1:2004; numbers worked at 40 digits beside this code (regression check)
describe('force of a weight', () => {
  it('DW-1: of a true mass', () => {
    expect(deadWeightForce(mass, gravity, air, density)).toBeCloseTo(4905.510023, 5)
  })

  it('DW-2: of a conventional mass', () => {
    expect(trueMass(mass, density)).toBeCloseTo(500.0014333, 6)
    expect(conventionalWeightForce(mass, gravity, air, density)).toBeCloseTo(4905.524085, 5)
  })

  // OIML D 28:2004: at 8000 kg/m³ conventional mass is the mass
  it('is that of its mass at the conventional density', () => {
    expect(trueMass(mass, kilogramsPerCubicMetre(8000))).toBe(500)
  })
})

describe('density of air', () => {
  // Formula: OIML R 111-1:2004 E.3.1; numbers worked beside this code (regression check)
  it.each([
    [20, 1013.25, 50, 1.1992943, 1.1993139],
    [20, 1000, 50, 1.1835435, 1.1835566],
    [23, 990, 40, 1.1599897, 1.1599618],
    [15, 1020, 65, 1.2284886, 1.2286336],
    [27, 950, 30, 1.0982986, 1.0982443],
    [20, 1013.25, 0, 1.2044938, 1.2045573],
  ])('at %d °C, %d hPa, %d %% is %d kg/m³, within 2e-4 of the CIPM-2007 formula', (t, hectopascals, humidity, simple, cipm) => {
    const value = airDensity(pascals(hectopascals * 100), celsius(t), humidity)
    expect(value).toBeCloseTo(simple, 7)
    expect(Math.abs(value / cipm - 1)).toBeLessThan(2e-4)
  })
})
