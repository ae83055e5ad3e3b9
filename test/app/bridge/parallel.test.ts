import { describe, expect, it } from 'vitest'
import { inputLoading, resistanceInParallel, unequalParallelSignal } from '../../../app/bridge/parallel.ts'
import { millivoltsPerVolt, ohms } from '../../../app/quantity/double.ts'

const cells = (outputs: readonly number[]) =>
  [
    [2.0004, 100],
    [1.9989, 150],
    [2.001, 120],
    [1.9997, 130],
  ].map(([rated = 0, load = 0], i) => ({ signal: millivoltsPerVolt((rated * load) / 500), outputResistance: ohms(outputs[i] ?? 350) }))

// Regression check: worked at 40 digits beside this code, from circuit theory
describe('unequal sensors side by side', () => {
  it('PC-2: output resistances of 350, 351, 349 and 352 ohm weigh the signals', () => {
    expect(unequalParallelSignal(cells([350, 351, 349, 352]))).toBeCloseTo(0.4998643648, 9)
  })

  it('PC-1: equal ones give the mean', () => {
    expect(unequalParallelSignal(cells([350, 350, 350, 350]))).toBeCloseTo(0.499978, 12)
  })

  it('PC-3: four inputs of 385 ohm are 96.25 ohm', () => {
    expect(resistanceInParallel([385, 385, 385, 385].map(ohms))).toBeCloseTo(96.25, 12)
    expect(() => resistanceInParallel([])).toThrow(RangeError)
  })

  it('LW-4: an input of 10 megohm leaves all but 35 ppm', () => {
    expect(inputLoading(ohms(10e6), ohms(350), ohms(0.8421508015))).toBeCloseTo(0.9999648328, 10)
  })
})
