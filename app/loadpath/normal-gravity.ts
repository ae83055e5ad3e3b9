import { type Degrees, type Metres, type MetresPerSecondSquared, metresPerSecondSquared } from '../quantity/double.ts'

/** Source: Moritz, Geodetic Reference System 1980. */
const grs80 = {
  atEquator: 9.7803267715,
  k: 0.001931851353,
  eccentricitySquared: 0.0066943800229,
  semiMajorAxis: 6_378_137,
  flattening: 1 / 298.257222101,
  m: 0.00344978600308,
}

/**
 * Normal gravity at a latitude and a height above the ellipsoid (sea level is close enough), in m/s².
 * Limits: misses the local anomaly, some 50 ppm and more: a force within 0.01 % needs a measured gravity.
 * Source: Somigliana's formula with the constants of GRS80; height to the second order.
 */
export function normalGravity(latitude: Degrees, height: Metres): MetresPerSecondSquared {
  const { atEquator, k, eccentricitySquared, semiMajorAxis: a, flattening: f, m } = grs80
  const sineSquared = Math.sin((latitude * Math.PI) / 180) ** 2
  const atSeaLevel = (atEquator * (1 + k * sineSquared)) / Math.sqrt(1 - eccentricitySquared * sineSquared)
  return metresPerSecondSquared(atSeaLevel * (1 - (2 / a) * (1 + f + m - 2 * f * sineSquared) * height + (3 * height ** 2) / a ** 2))
}
