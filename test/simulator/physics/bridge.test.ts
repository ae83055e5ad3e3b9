import { describe, expect, it } from 'vitest'
import { bridgeSignal } from '../../../simulator/physics/bridge.ts'

const cell = { capacity: 500, ratedOutputMvPerV: 2, zeroMvPerV: 0 }

// Worked by hand: signal = rated output x load on the cell / capacity + zero; parallel outputs average.
describe('signal of a bridge', () => {
  it('is the rated output at capacity', () => {
    expect(bridgeSignal({ sensors: [cell], deadLoad: 0 }, 500)).toBe(2)
  })

  it('of four cells under 500 in all is a quarter of it', () => {
    expect(bridgeSignal({ sensors: [cell, cell, cell, cell], deadLoad: 0 }, 500)).toBe(0.5)
  })

  it('has structure and zero in it', () => {
    expect(bridgeSignal({ sensors: [{ ...cell, zeroMvPerV: 0.02 }], deadLoad: 50 }, 100)).toBeCloseTo(0.62, 12)
  })

  it('of unlike cells is the mean of their outputs', () => {
    expect(bridgeSignal({ sensors: [cell, { ...cell, ratedOutputMvPerV: 3 }], deadLoad: 0 }, 500)).toBeCloseTo(1.25, 12)
  })
})
