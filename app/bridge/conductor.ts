import { type Celsius, type Metres, type Ohms, ohms } from '../quantity/double.ts'
import { fail, ok, type Result } from '../result.ts'

/** Wire gauge (solid annealed copper), or a nominal cross-section with its class of stranding. */
export type Conductor =
  | { kind: 'awg'; gauge: number }
  | { kind: 'square-millimetres'; section: string; stranding: 'solid-or-stranded' | 'flexible'; tinned: boolean }

export type ConductorFailure =
  | { kind: 'gauge-not-known'; gauge: number }
  | { kind: 'section-not-listed'; section: string; listed: string[] }

export function explainConductorFailure(f: ConductorFailure): string {
  return f.kind === 'gauge-not-known'
    ? `Wire gauge ${f.gauge} is not among AWG 0 to 40. Look at the print on the cable.`
    : `A cross-section of ${f.section} mm² is not in the table; it has ${f.listed.join(', ')} mm². Enter the ohms of one lead instead.`
}

/**
 * Maximum d.c. resistance at 20 °C, ohm/km: solid or stranded (class 1, 2) plain and tinned, flexible (class 5, 6) plain and tinned.
 * Source: IEC 60228. Below 0.5 mm² a listing of bunched wire, plain and tinned, that knows no classes; that is outside IEC 60228.
 */
const ohmsPerKilometre: Record<string, readonly [number, number, number, number]> = {
  '0.14': [134, 138, 134, 138],
  '0.22': [96, 99, 96, 99],
  '0.25': [76, 79, 76, 79],
  '0.34': [53, 56, 53, 56],
  '0.5': [36.0, 36.7, 39.0, 40.1],
  '0.75': [24.5, 24.8, 26.0, 26.7],
  '1': [18.1, 18.2, 19.5, 20.0],
  '1.5': [12.1, 12.2, 13.3, 13.7],
  '2.5': [7.41, 7.56, 7.98, 8.21],
  '4': [4.61, 4.7, 4.95, 5.09],
}

/** Annealed copper at 20 °C: 1/58 ohm mm²/m, and 0.00393 per kelvin. Source: IEC 60028. */
const resistivity = 1 / 58
const perKelvin = 0.00393

/** Diameter of a wire gauge in mm. Source: ASTM B258. */
const gaugeDiameter = (gauge: number) => 0.127 * 92 ** ((36 - gauge) / 39)

/** Ohms of one kilometre at 20 °C. Stranded wire of a gauge has 1 to 4 % more (common practice, no source). */
export function resistancePerKilometre(conductor: Conductor): Result<Ohms, ConductorFailure> {
  if (conductor.kind === 'awg') {
    const { gauge } = conductor
    if (!Number.isInteger(gauge) || gauge < 0 || gauge > 40) return fail({ kind: 'gauge-not-known', gauge })
    return ok(ohms((1000 * resistivity) / ((Math.PI / 4) * gaugeDiameter(gauge) ** 2)))
  }
  const section = conductor.section.replace(/\.0+$/, '')
  const row = ohmsPerKilometre[section]
  if (!row)
    return fail({ kind: 'section-not-listed', section, listed: Object.keys(ohmsPerKilometre).sort((a, b) => Number(a) - Number(b)) })
  const [plain, tinned, flexiblePlain, flexibleTinned] = row
  const [bare, coated] = conductor.stranding === 'flexible' ? [flexiblePlain, flexibleTinned] : [plain, tinned]
  return ok(ohms(conductor.tinned ? coated : bare))
}

/** Resistance at a temperature of copper that has `at20` ohm at 20 °C. Source: IEC 60028. */
export const copperAt = (at20: Ohms, temperature: Celsius): Ohms => ohms(at20 * (1 + perKelvin * (temperature - 20)))

/** One lead of so many metres at a temperature, in ohm. */
export function leadResistance(conductor: Conductor, length: Metres, temperature: Celsius): Result<Ohms, ConductorFailure> {
  const perKilometre = resistancePerKilometre(conductor)
  return perKilometre.ok ? ok(copperAt(ohms((perKilometre.value * length) / 1000), temperature)) : perKilometre
}
