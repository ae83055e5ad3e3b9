import {
  type Celsius,
  type Kilograms,
  type KilogramsPerCubicMetre,
  kilograms,
  kilogramsPerCubicMetre,
  type MetresPerSecondSquared,
  type Newtons,
  newtons,
  type Pascals,
} from '../quantity/double.ts'

/** Air and mass standard of the conventional mass. Source: OIML D 28:2004; OIML R 111-1:2004. */
const conventionalAir = 1.2
const conventionalDensity = 8000

/** Mass that a weight of this conventional mass and density has. Source: OIML D 28:2004. */
export const trueMass = (conventional: Kilograms, density: KilogramsPerCubicMetre): Kilograms =>
  kilograms((conventional * (1 - conventionalAir / conventionalDensity)) / (1 - conventionalAir / density))

/** Force of a mass in air: m g (1 - air/density). Source: statics with buoyancy, as in OIML R 111-1:2004. */
export const deadWeightForce = (
  mass: Kilograms,
  gravity: MetresPerSecondSquared,
  air: KilogramsPerCubicMetre,
  density: KilogramsPerCubicMetre,
): Newtons => newtons(mass * gravity * (1 - air / density))

/** Force of a weight by its conventional mass, which is what weights and their certificates state. */
export const conventionalWeightForce = (
  conventional: Kilograms,
  gravity: MetresPerSecondSquared,
  air: KilogramsPerCubicMetre,
  density: KilogramsPerCubicMetre,
): Newtons => deadWeightForce(trueMass(conventional, density), gravity, air, density)

/**
 * Density of air from pressure, temperature and relative humidity in percent.
 * Limits: within 2e-4 from 900 to 1100 hPa, 10 to 30 °C, below 80 %. Source: OIML R 111-1:2004, E.3.1.
 */
export const airDensity = (pressure: Pascals, temperature: Celsius, humidityPercent: number): KilogramsPerCubicMetre =>
  kilogramsPerCubicMetre(((0.34848 * pressure) / 100 - 0.009 * humidityPercent * Math.exp(0.061 * temperature)) / (273.15 + temperature))
