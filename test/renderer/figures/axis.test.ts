import { describe, expect, it } from 'vitest'
import { roundBounds, steadyBounds, stepDecimals } from '../../../renderer/figures/axis.ts'

describe('roundBounds', () => {
  it('takes round steps around the values', () => {
    expect(roundBounds(3, 413.6, 0)).toEqual({ from: 0, to: 500, step: 100 })
  })

  it('keeps noise from filling the axis', () => {
    const { from, to } = roundBounds(100, 100.2, 4)

    expect(to - from).toBeGreaterThanOrEqual(4)
  })

  it('opens no further step for a little noise below nought', () => {
    expect(roundBounds(-0.2, 400, 0).from).toBe(0)
  })
})

describe('steadyBounds', () => {
  const before = { from: 0, to: 500, step: 100 }

  it('stays while the values still fit', () => {
    expect(steadyBounds(before, 10, 480, 4)).toBe(before)
  })

  it('opens once a value leaves it', () => {
    expect(steadyBounds(before, 10, 620, 4).to).toBeGreaterThanOrEqual(620)
  })

  it('closes in once little of it is used', () => {
    expect(steadyBounds(before, 10, 60, 4).to).toBeLessThan(500)
  })
})

it.each([
  [100, 0],
  [2.5, 1],
  [0.2, 1],
  [0.25, 2],
  [0.002, 3],
])('ticks %s apart need %s decimals', (step, decimals) => {
  expect(stepDecimals(step)).toBe(decimals)
})
