import { describe, expect, it } from 'vitest'
import { createPollRate } from '../../../main/host/poll-rate.ts'

function rateOf(...times: number[]) {
  const rate = createPollRate()
  for (const at of times) rate.answered(at)
  return rate
}

describe('missed polls', () => {
  it('are counted at the rate at which readings came', () => {
    const slow = rateOf(0, 1_500, 3_000, 4_500)

    expect([500, 1_499, 1_500, 4_499, 4_500].map((age) => slow.missed(age))).toEqual([0, 0, 1, 2, 3])
  })

  it('of a fast line are half a second each: a single answer asked for again misses none', () => {
    expect([300, 500, 1_500].map((age) => rateOf(0, 50, 100, 150).missed(age))).toEqual([0, 1, 3])
  })

  it('do not grow rare after one long silence', () => {
    expect(rateOf(0, 600, 1_200, 61_200, 61_800).missed(1_800)).toBe(3)
  })

  it('are a second each while no rate is known', () => {
    expect(rateOf(0).missed(3_000)).toBe(3)
  })
})
