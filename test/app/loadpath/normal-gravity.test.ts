import { describe, expect, it } from 'vitest'
import { normalGravity } from '../../../app/loadpath/normal-gravity.ts'
import { degrees, metres } from '../../../app/quantity/double.ts'

describe('normal gravity', () => {
  // 1980 Gravity Formula, Geodesist's Handbook 1988; rounded constants give it to 1e-9
  it.each([
    [0, 9.780326772],
    [45, 9.806199203],
    [90, 9.832186368],
  ])('at %d degrees is %d m/s²', (latitude, published) => {
    expect(Math.abs(normalGravity(degrees(latitude), metres(0)) - published)).toBeLessThan(1.01e-9)
    expect(normalGravity(degrees(-latitude), metres(0))).toBe(normalGravity(degrees(latitude), metres(0)))
  })

  // Regression check: worked beside this code
  it.each([
    [0, 1000, 9.7772398],
    [45, 500, 9.80465661],
    [60, 100, 9.81886995],
    [90, 1000, 9.8291037],
  ])('at %d degrees and %d m is %d m/s²', (latitude, height, value) => {
    expect(Math.abs(normalGravity(degrees(latitude), metres(height)) - value)).toBeLessThan(6e-9)
  })

  // Measured at Gaithersburg, 39.13° N: 9.801018 m/s² (Tate, J. Res. NBS 70C, 1966); the height of 138 m is from memory
  it('misses a measured gravity by the local anomaly, some 50 ppm', () => {
    const ppm = (normalGravity(degrees(39.13), metres(138)) / 9.801018 - 1) * 1e6
    expect(ppm).toBeGreaterThan(-100)
    expect(ppm).toBeLessThan(-20)
  })
})
