import { describe, expect, it } from 'vitest'
import { type InputConditions, inputStage } from '../../../simulator/physics/input-stage.ts'
import { gaussianAt, seedFor } from '../../../simulator/physics/noise.ts'

const quiet: InputConditions = { signalMvPerV: 1, noiseMicrovolt: 0, excitationVolt: 5, rangeMvPerV: 2, filterSeconds: 0 }
const start = () => inputStage({ seed: 1, startMs: 0, rateHz: 100 })

describe('input of an indicator', () => {
  it('shows the signal to its resolution where there is no noise and no filter', () => {
    const input = start()
    input.advance(0, quiet)
    expect(Math.abs(input.state().signalMvPerV - 1)).toBeLessThan(2 / 2 ** 23)
  })

  it('follows a step with 1 - 1/e after one time constant (first-order low-pass)', () => {
    const input = start()
    const filtered = { ...quiet, filterSeconds: 0.5 }
    input.advance(990, { ...filtered, signalMvPerV: 0 })
    input.advance(1490, filtered)
    expect(input.state().signalMvPerV).toBeCloseTo(1 - Math.exp(-1), 6)
  })

  it('saturates at the end of its range and says so', () => {
    const input = start()
    input.advance(0, { ...quiet, signalMvPerV: 2.5 })
    expect(input.state()).toMatchObject({ signalMvPerV: 2, over: true, under: false })
    input.advance(10, { ...quiet, signalMvPerV: -2.5 })
    expect(input.state()).toMatchObject({ signalMvPerV: -2, over: false, under: true })
  })

  it('has the same noise for the same seed, however often it is looked at', () => {
    const noisy = { ...quiet, noiseMicrovolt: 1, filterSeconds: 0.1 }
    const [often, seldom, other] = [start(), start(), inputStage({ seed: 2, startMs: 0, rateHz: 100 })]
    for (let t = 0; t <= 1000; t += 7) often.advance(t, noisy)
    often.advance(1000, noisy)
    seldom.advance(1000, noisy)
    other.advance(1000, noisy)
    expect(often.state()).toEqual(seldom.state())
    expect(other.state().signalMvPerV).not.toBe(seldom.state().signalMvPerV)
  })

  it('spreads by the step of the last half second only', () => {
    const input = start()
    input.advance(990, { ...quiet, signalMvPerV: 0 })
    input.advance(1200, quiet)
    expect(input.state().spreadMvPerV).toBeCloseTo(1, 6)
    input.advance(2000, quiet)
    expect(input.state().spreadMvPerV).toBe(0)
  })

  it('is settled after a long time unobserved', () => {
    const input = start()
    input.advance(0, { ...quiet, signalMvPerV: 0, filterSeconds: 1 })
    input.advance(3_600_000, { ...quiet, filterSeconds: 1 })
    expect(input.state().signalMvPerV).toBeCloseTo(1, 6)
  })
})

describe('noise', () => {
  const samples = Array.from({ length: 20_000 }, (_, i) => gaussianAt(seedFor(5, 'a@1'), i))
  const mean = samples.reduce((a, b) => a + b, 0) / samples.length
  const deviation = Math.sqrt(samples.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (samples.length - 1))

  it('is standard normal: mean 0, deviation 1, 68.27 % and 95.45 % within one and two deviations', () => {
    // Four standard errors of each estimate at n = 20 000.
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(20_000))
    expect(Math.abs(deviation - 1)).toBeLessThan(4 / Math.sqrt(40_000))
    const within = (limit: number) => samples.filter((x) => Math.abs(x) < limit).length / samples.length
    expect(Math.abs(within(1) - 0.6827)).toBeLessThan(0.0132)
    expect(Math.abs(within(2) - 0.9545)).toBeLessThan(0.0059)
  })

  it('of neighbouring samples is unrelated', () => {
    const products = samples.slice(1).map((x, i) => x * (samples[i] ?? 0))
    expect(Math.abs(products.reduce((a, b) => a + b, 0) / products.length)).toBeLessThan(4 / Math.sqrt(20_000))
  })

  it('differs from channel to channel', () => {
    expect(gaussianAt(seedFor(5, 'a@1'), 3)).not.toBe(gaussianAt(seedFor(5, 'a@2'), 3))
  })
})
