import { toBase } from '../quantity/convert.ts'
import { type Exact, exact, fromInteger, one } from '../quantity/exact.ts'
import { type UnitId, units } from '../quantity/units.ts'

/** A slip of the hand or eye that multiplies a scaling by a ratio. */
export type Slip = { kind: 'unit' | 'sensors' | 'excitation' | 'factor'; ratio: Exact; what: string }

const standardGravity = exact('9.80665')
/** Units mixed up in practice; mass and force stand together because a kg is taken for an N, a lb for a kgf (common practice, no source). */
const weighing: UnitId[] = [
  'kg',
  'g',
  't',
  'lb',
  'oz',
  'ton-short',
  'ton-long',
  'N',
  'kN',
  'kgf',
  'tf',
  'lbf',
  'kip',
  'tonf-short',
  'tonf-long',
]
const pressures: UnitId[] = ['Pa', 'kPa', 'MPa', 'bar', 'mbar', 'psi', 'kgf/cm2', 'atm', 'mmHg', 'inHg', 'mmH2O', 'inH2O', 'ftH2O']
const torques: UnitId[] = ['N.m', 'kN.m', 'N.cm', 'lbf.ft', 'lbf.in', 'kgf.m', 'kgf.cm']
const excitations = ['10', '5', '2.5']

/** Size in one scale for mass and force together, a mass counted as its weight at standard gravity. */
const size = (unit: UnitId) => (units[unit].dimension === 'mass' ? toBase(one, unit).mul(standardGravity) : toBase(one, unit))

function unitSlips(own: readonly UnitId[]): Slip[] {
  return own.flatMap((unit) => {
    const family = [weighing, pressures, torques].find((f) => f.includes(unit)) ?? []
    return family
      .filter((other) => other !== unit && !size(other).equals(size(unit)))
      .map((other) => ({
        kind: 'unit' as const,
        ratio: size(other).div(size(unit)),
        what: `${units[other].symbol} and ${units[unit].symbol} mixed up`,
      }))
  })
}

/**
 * Every slip that is thought of, with its inverse: units of force, mass and pressure against those of point and certificate, one sensor for several,
 * one excitation for another, factors of two and ten. `sensorCount` is that of the point; with one sensor entered, two to four are tried.
 * Source of the list: common practice, no source; the unit factors are exact.
 */
export function usualSlips(own: readonly UnitId[], sensorCount: number): Slip[] {
  const counts = sensorCount > 1 ? [sensorCount] : [2, 3, 4]
  const list: Slip[] = [
    ...unitSlips(own),
    ...counts.map((n) => ({ kind: 'sensors' as const, ratio: fromInteger(n), what: `one sensor counted for ${n}, or ${n} for one` })),
    ...excitations.flatMap((high, i) =>
      excitations.slice(i + 1).map((low) => ({
        kind: 'excitation' as const,
        ratio: exact(high).div(exact(low)),
        what: `an excitation of ${high} V taken for ${low} V, or the other way round`,
      })),
    ),
    ...[2, 10, 100, 1000].map((n) => ({ kind: 'factor' as const, ratio: fromInteger(n), what: `a factor of ${n}` })),
  ]
  const both = list.flatMap((s) => [s, { ...s, ratio: one.div(s.ratio) }])
  return both.filter((s, i) => both.findIndex((x) => x.what === s.what && x.ratio.equals(s.ratio)) === i)
}

export type Suspicion = Slip & {
  /** By how much the found ratio misses that of the slip, in percent of it. */
  missesPercent: Exact
}

const window = exact('2')

/**
 * Slips whose ratio the found one meets within 2 %, nearest first. A slip is named only if it explains the found ratio better than no slip does:
 * an ordinary difference of 0.1 % suspects nothing.
 */
export function suspect(found: Exact, slips: readonly Slip[]): Suspicion[] {
  const percentOff = (from: Exact) => found.div(from).sub(one).mul(exact('100'))
  const plain = percentOff(one).abs()
  return slips
    .map((slip) => ({ ...slip, missesPercent: percentOff(slip.ratio) }))
    .filter((s) => s.missesPercent.abs().lte(window) && s.missesPercent.abs().lt(plain))
    .sort((a, b) => a.missesPercent.abs().compare(b.missesPercent.abs()))
}
