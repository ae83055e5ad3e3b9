import { describe, expect, it } from 'vitest'
import { exact, exactDecimal, toDecimal, toSignificant } from '../../../app/quantity/exact.ts'
import { type UnitId, unitIds, units } from '../../../app/quantity/units.ts'

/**
 * Factors to SI. `published`: NIST SP 811 (2008), Appendix B.8, as printed there; evidence S = read in a published copy of the table,
 * M = from memory (regression check), C = computed from the exact definitions, not tabulated in SP 811 (regression check).
 * `factor`: exact, or to 20 digits where it is no finite decimal (`quotient`), or a rounded table value (`rounded`).
 */
const rows: [
  id: UnitId,
  dimension: string,
  factor: string,
  kind: 'exact' | 'quotient' | 'rounded',
  published: string | null,
  evidence: 'S' | 'M' | 'C',
][] = [
  ['g_n', 'acceleration', '9.80665', 'exact', '9.80665', 'S'],
  ['in', 'length', '0.0254', 'exact', '2.54E-02', 'S'],
  ['ft', 'length', '0.3048', 'exact', '3.048E-01', 'S'],
  ['kg', 'mass', '1', 'exact', null, 'C'],
  ['g', 'mass', '0.001', 'exact', null, 'C'],
  ['mg', 'mass', '0.000001', 'exact', null, 'C'],
  ['t', 'mass', '1000', 'exact', '1.0E+03', 'S'],
  ['lb', 'mass', '0.45359237', 'exact', '4.535924E-01', 'S'],
  ['oz', 'mass', '0.028349523125', 'exact', '2.834952E-02', 'S'],
  ['gr', 'mass', '0.00006479891', 'exact', '6.479891E-05', 'S'],
  ['ton-short', 'mass', '907.18474', 'exact', '9.071847E+02', 'S'],
  ['ton-long', 'mass', '1016.0469088', 'exact', '1.016047E+03', 'S'],
  ['cwt-short', 'mass', '45.359237', 'exact', '4.535924E+01', 'S'],
  ['cwt-long', 'mass', '50.80234544', 'exact', '5.080235E+01', 'S'],
  ['slug', 'mass', '14.593902937206364829', 'quotient', '1.459390E+01', 'S'],
  ['oz-troy', 'mass', '0.0311034768', 'exact', '3.110348E-02', 'S'],
  ['ct', 'mass', '0.0002', 'exact', '2.0E-04', 'S'],
  ['N', 'force', '1', 'exact', null, 'C'],
  ['mN', 'force', '0.001', 'exact', null, 'C'],
  ['kN', 'force', '1000', 'exact', null, 'C'],
  ['MN', 'force', '1000000', 'exact', null, 'C'],
  ['kgf', 'force', '9.80665', 'exact', '9.80665E+00', 'S'],
  ['gf', 'force', '0.00980665', 'exact', null, 'C'],
  ['tf', 'force', '9806.65', 'exact', null, 'C'],
  ['lbf', 'force', '4.4482216152605', 'exact', '4.448222E+00', 'S'],
  ['ozf', 'force', '0.27801385095378125', 'exact', '2.780139E-01', 'S'],
  ['kip', 'force', '4448.2216152605', 'exact', '4.448222E+03', 'S'],
  ['tonf-short', 'force', '8896.443230521', 'exact', '8.896443E+03', 'S'],
  ['tonf-long', 'force', '9964.01641818352', 'exact', null, 'C'],
  ['dyn', 'force', '0.00001', 'exact', '1.0E-05', 'S'],
  ['pdl', 'force', '0.138254954376', 'exact', '1.382550E-01', 'S'],
  ['Pa', 'pressure', '1', 'exact', null, 'C'],
  ['hPa', 'pressure', '100', 'exact', null, 'C'],
  ['kPa', 'pressure', '1000', 'exact', null, 'C'],
  ['MPa', 'pressure', '1000000', 'exact', null, 'C'],
  ['GPa', 'pressure', '1000000000', 'exact', null, 'C'],
  ['bar', 'pressure', '100000', 'exact', '1.0E+05', 'S'],
  ['mbar', 'pressure', '100', 'exact', '1.0E+02', 'M'],
  ['psi', 'pressure', '6894.7572931683613367', 'quotient', '6.894757E+03', 'S'],
  ['ksi', 'pressure', '6894757.2931683613367', 'quotient', '6.894757E+06', 'S'],
  ['kgf/cm2', 'pressure', '98066.5', 'exact', '9.80665E+04', 'S'],
  ['kgf/mm2', 'pressure', '9806650', 'exact', '9.80665E+06', 'S'],
  ['atm', 'pressure', '101325', 'exact', '1.01325E+05', 'S'],
  ['Torr', 'pressure', '133.32236842105263158', 'quotient', '1.333224E+02', 'S'],
  ['mmHg', 'pressure', '133.322387415', 'exact', '1.333224E+02', 'S'],
  ['inHg', 'pressure', '3386.388640341', 'exact', '3.386389E+03', 'S'],
  ['mmH2O', 'pressure', '9.80665', 'exact', '9.80665E+00', 'S'],
  ['cmH2O', 'pressure', '98.0665', 'exact', '9.80665E+01', 'S'],
  ['inH2O', 'pressure', '249.08891', 'exact', '2.490889E+02', 'S'],
  ['ftH2O', 'pressure', '2989.06692', 'exact', '2.989067E+03', 'S'],
  ['inHg-32F', 'pressure', '3386.38', 'rounded', '3.38638E+03', 'S'],
  ['inHg-60F', 'pressure', '3376.85', 'rounded', '3.37685E+03', 'S'],
  ['inH2O-4C', 'pressure', '249.082', 'rounded', '2.49082E+02', 'S'],
  ['inH2O-60F', 'pressure', '248.84', 'rounded', '2.4884E+02', 'S'],
  ['inH2O-20C', 'pressure', '248.642', 'rounded', null, 'M'],
  ['mmH2O-4C', 'pressure', '9.80638', 'rounded', null, 'S'],
  ['N.m', 'torque', '1', 'exact', null, 'C'],
  ['kN.m', 'torque', '1000', 'exact', null, 'C'],
  ['N.cm', 'torque', '0.01', 'exact', null, 'C'],
  ['mN.m', 'torque', '0.001', 'exact', null, 'C'],
  ['lbf.ft', 'torque', '1.3558179483314004', 'exact', '1.355818E+00', 'M'],
  ['lbf.in', 'torque', '0.1129848290276167', 'exact', '1.129848E-01', 'M'],
  ['ozf.in', 'torque', '0.00706155181422604375', 'exact', '7.061552E-03', 'M'],
  ['kgf.m', 'torque', '9.80665', 'exact', '9.80665E+00', 'M'],
  ['kgf.cm', 'torque', '0.0980665', 'exact', null, 'C'],
  ['gf.cm', 'torque', '0.0000980665', 'exact', null, 'C'],
  ['dyn.cm', 'torque', '0.0000001', 'exact', '1.0E-07', 'M'],
]

/** "2.54E-02" as a plain decimal and its count of digits. */
function printed(text: string): { digits: number; plain: string } {
  const [mantissa = '', power = '0'] = text.split('E')
  const [whole = '', fraction = ''] = mantissa.split('.')
  const shift = Number(power)
  const all = whole + fraction
  const point = whole.length + shift
  const plain =
    point <= 0
      ? `0.${'0'.repeat(-point)}${all}`
      : point >= all.length
        ? all.padEnd(point, '0')
        : `${all.slice(0, point)}.${all.slice(point)}`
  return { digits: all.length, plain }
}

describe('units against NIST SP 811 (2008) Appendix B.8', () => {
  it('covers all 67 units of the reference table', () => {
    expect(rows).toHaveLength(67)
    expect(new Set(rows.map(([id]) => id)).size).toBe(67)
  })

  for (const [id, dimension, factor, kind, published, evidence] of rows) {
    it(`${id} is a unit of ${dimension}: ${factor}, ${kind}`, () => {
      expect(units[id].dimension).toBe(dimension)
      const held = exact(units[id].factor)
      // what is no finite decimal is held exactly as a quotient, and agrees to the 20 digits of the table
      if (kind === 'quotient') {
        expect(exactDecimal(held)).toBeUndefined()
        expect(toDecimal(held, factor.split('.')[1]?.length ?? 0)).toBe(factor)
      } else expect(held.equals(exact(factor))).toBe(true)
      expect(units[id].rounded ?? false).toBe(kind === 'rounded')
    })
    if (published)
      it(`${id} agrees with the printed ${published} (${evidence === 'S' ? 'published' : 'from memory, regression check'})`, () => {
        const { digits, plain } = printed(published)
        expect(exact(toSignificant(exact(units[id].factor), digits)).equals(exact(plain))).toBe(true)
      })
  }
})

describe('the other units', () => {
  it('has one entry for each id, and no two units of a dimension that print alike', () => {
    expect(Object.keys(units).sort()).toEqual([...unitIds].sort())
    const symbols = unitIds.map((id) => units[id].symbol)
    expect(new Set(symbols).size).toBe(symbols.length)
  })

  // Definitions: SI prefixes (SI Brochure, table of prefixes); 1 kip = 1000 lbf (SP 811 B.8)
  const same: [UnitId, string, UnitId][] = [
    ['klbf', '1000', 'lbf'],
    ['mV', '0.001', 'V'],
    ['uV', '0.001', 'mV'],
    ['uV/V', '0.001', 'mV/V'],
    ['kohm', '1000', 'ohm'],
    ['Mohm', '1000', 'kohm'],
    ['mA', '0.001', 'A'],
    ['mW', '0.001', 'W'],
    ['mm', '0.001', 'm'],
    ['cm', '10', 'mm'],
    ['km', '1000', 'm'],
    ['ms', '0.001', 's'],
    ['us', '0.001', 'ms'],
    ['min', '60', 's'],
    ['h', '60', 'min'],
    ['%', '10000', 'ppm'],
  ]
  for (const [id, count, other] of same)
    it(`one ${id} is ${count} ${other}`, () => {
      expect(exact(units[id].factor).equals(exact(units[other].factor).mul(exact(count)))).toBe(true)
      expect(units[id].dimension).toBe(units[other].dimension)
    })
})
