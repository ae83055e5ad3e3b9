import { describe, expect, it } from 'vitest'
import { shuntFor, shuntSignal } from '../../../app/bridge/shunt.ts'
import { millivoltsPerVolt, ohms } from '../../../app/quantity/double.ts'

describe('a resistor across one arm', () => {
  // The expression 1000 R/(4 Rs + 2 R) stands in published strain-gauge data-acquisition documentation;
  // numbers worked at 40 digits beside this code (regression check)
  it.each([
    [350, 100000, 0.873471425],
    [350, 60000, 1.454092231],
    [350, 43575, 2.0],
    [350, 30000, 2.89975145],
    [120, 60000, 0.4995004995],
    [1000, 100000, 2.487562189],
    [350, 59000, 1.478664977],
    [700, 100000, 1.743896363],
  ])('SH-1: %d ohm, shunted with %d ohm, gives %d mV/V', (arm, shunt, signal) => {
    expect(shuntSignal(ohms(arm), ohms(shunt))).toBeCloseTo(signal, 8)
  })

  // independent of the formula: the bridge solved as two dividers
  it('gives what two voltage dividers give', () => {
    const [arm, shunt] = [350, 100_000]
    const shunted = (arm * shunt) / (arm + shunt)
    expect(shuntSignal(ohms(arm), ohms(shunt))).toBeCloseTo(1000 * (arm / (arm + shunted) - 0.5), 9)
  })

  it.each([
    [1, 87325],
    [2, 43575],
    [3, 28991.66667],
  ])('SH-2: for %d mV/V of 350 ohm it has %d ohm', (signal, shunt) => {
    expect(shuntFor(ohms(350), millivoltsPerVolt(signal))).toBeCloseTo(shunt, 4)
  })

  it('does not exist for a signal that none makes', () => {
    expect(shuntFor(ohms(350), millivoltsPerVolt(0))).toBeUndefined()
    expect(shuntFor(ohms(350), millivoltsPerVolt(500))).toBeUndefined()
  })
})
