import { expect, it } from 'vitest'
import { apart } from '../../../../renderer/figures/trend/end-labels.ts'

const places = (at: readonly number[], bottom: number) =>
  apart(
    at.map((y) => ({ at: y })),
    16,
    bottom,
  ).map((l) => l.at)

it('leaves names where their curves end while there is room', () => {
  expect(places([100, 20, 60], 300)).toEqual([20, 60, 100])
})

it('moves names that would overlap apart, in the order of their curves', () => {
  expect(places([50, 52, 51], 300)).toEqual([50, 66, 82])
})

it('moves the pile up where it would run out at the foot', () => {
  expect(places([290, 291, 292], 300)).toEqual([268, 284, 300])
})
