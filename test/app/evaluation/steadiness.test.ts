import { describe, expect, it } from 'vitest'
import { isChange, noise, type TimedValue } from '../../../app/evaluation/steadiness.ts'

/** Twenty a second, the last at `values.length` × 50 ms. */
const timed = (values: readonly number[]): TimedValue[] => values.map((value, i) => ({ at: (i + 1) * 50, value }))

/** Numbers that look random, the same in every run: Park and Miller 1988, "Random number generators: good ones are hard to find". */
function* minimalStandard(seed: number): Generator<number> {
  for (let x = seed; ; yield x / 2_147_483_647) x = (x * 16_807) % 2_147_483_647
}
function scattered(count: number, seed: number): number[] {
  const random = minimalStandard(seed)
  return Array.from({ length: count }, () => (random.next().value as number) - 0.5)
}

describe('noise of a signal', () => {
  it('is the standard deviation of the samples in the window, older ones left out', () => {
    // By hand: mean 5, squares 32 over 7.
    expect(noise(timed([900, 900, 2, 4, 4, 4, 5, 5, 7, 9]), 400)).toBeCloseTo(Math.sqrt(32 / 7), 12)
    expect(noise(timed([3]), 5_000)).toBeNull()
    // Uniform over one unit: 1/√12, within four standard errors of 2000 samples.
    expect(noise(timed(scattered(2_000, 1)), 200_000)).toBeCloseTo(1 / Math.sqrt(12), 1)
  })

  it.each([0, 1, 2, 5, 10, 30, 50, 70, 90, 95, 98, 99])('is none while a load that came %i samples ago is in the window', (ago) => {
    const values = scattered(100, 7).map((v, i) => v + (i >= 100 - 1 - ago ? 2_000 : 0))
    expect(isChange(timed(values), 5_000)).toBe(ago < 99)
  })

  it('of a signal that only scatters is no change, however much it does', () => {
    const changes = Array.from({ length: 200 }, (_, seed) => isChange(timed(scattered(100, seed + 1).map((v) => v * 1_000)), 5_000))
    // Half a standard deviation between the halves is 2.5 sigma of their difference: 1.2 % by the normal distribution.
    expect(changes.filter(Boolean).length).toBeLessThanOrEqual(8)
  })

  it('sees a slow creep as a change', () => {
    expect(isChange(timed(Array.from({ length: 100 }, (_, i) => i)), 5_000)).toBe(true)
  })
})
