import { describe, expect, it } from 'vitest'
import { expectedOhms } from '../../../app/bridge/expected-ohms.ts'
import { ohms } from '../../../app/quantity/double.ts'

const equalArm = { input: ohms(350), output: ohms(350), inputTolerance: ohms(4), outputTolerance: ohms(4) }
const trimmed = { input: ohms(385), output: ohms(350), inputTolerance: ohms(15), outputTolerance: ohms(3) }
const between = (list: ReturnType<typeof expectedOhms>, pair: string) => list.find((e) => e.between === pair)

describe('what an ohmmeter is to show', () => {
  // circuit theory: one arm beside three of the same resistance, 350 x 3/4
  it('between excitation and signal of an equal-arm bridge is three quarters of its resistance', () => {
    const pair = between(expectedOhms([equalArm]), 'excitation and signal')
    expect(pair?.approximate).toBe(false)
    expect(((pair?.from ?? 0) + (pair?.to ?? 0)) / 2).toBeCloseTo((350 * 3 * 350) / (4 * 350), 12)
  })

  it('is marked as approximate there where input and output differ', () => {
    const pair = between(expectedOhms([trimmed]), 'excitation and signal')
    expect(pair?.approximate).toBe(true)
    // by hand: 17.5 ohm in each excitation lead before 262.5 ohm
    expect(pair?.from).toBeLessThan(280)
    expect(pair?.to).toBeGreaterThan(280)
  })

  it('at the input and at the output is what the certificate states, with its tolerance and the leads', () => {
    const list = expectedOhms([trimmed], ohms(1))
    expect(between(list, 'excitation')).toEqual({ between: 'excitation', from: 372, to: 402, approximate: false })
    expect(between(list, 'signal')).toEqual({
      between: 'signal',
      from: expect.closeTo(349, 9),
      to: expect.closeTo(355, 9),
      approximate: false,
    })
  })

  it('of several sensors is that of all side by side', () => {
    const pair = between(expectedOhms([equalArm, equalArm]), 'excitation')
    expect([pair?.from, pair?.to]).toEqual([expect.closeTo(173, 9), expect.closeTo(177, 9)])
  })

  it('is not said where the certificates do not state it', () => {
    expect(expectedOhms([{ input: ohms(350) }]).map((e) => e.between)).toEqual(['excitation'])
    expect(expectedOhms([equalArm, {}])).toEqual([])
    expect(expectedOhms([])).toEqual([])
  })
})
