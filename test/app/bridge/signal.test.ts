import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { loadAtSignal, parallelSignal, sensorSignal, signalAtNoLoad, signalInMillivolts } from '../../../app/bridge/signal.ts'
import { exact, exactDecimal, fromInteger, zero } from '../../../app/quantity/exact.ts'

const sensor = (ratedOutput: string, capacity: string, zeroBalance = '0') => ({
  ratedOutput: exact(ratedOutput),
  capacity: exact(capacity),
  zeroBalance: exact(zeroBalance),
})

describe('signal of a sensor', () => {
  // Formula: common practice, no source; numbers worked at 40 digits beside this code (regression check).
  it.each([
    ['BR-1: 350 of 500 kg, 2.0015 mV/V, 10 V', sensor('2.0015', '500'), '350', '10', '1.40105', '14.0105'],
    ['BR-2: the same with a zero balance of 0.0123 mV/V', sensor('2.0015', '500', '0.0123'), '350', '10', '1.41335', '14.1335'],
    ['BR-3: 37.5 of 100 bar, 3 mV/V, 5 V', sensor('3', '100'), '37.5', '5', '1.125', '5.625'],
  ])('%s', (_, line, load, excitation, ratio, millivolts) => {
    const signal = sensorSignal(line, exact(load))
    expect(exactDecimal(signal)).toBe(ratio)
    expect(exactDecimal(signalInMillivolts(signal, exact(excitation)))).toBe(millivolts)
    expect(exactDecimal(loadAtSignal(line, signal))).toBe(load)
  })

  it('without load is the zero balance, at capacity that and the rated output', () => {
    const line = sensor('2.0015', '500', '-0.01')
    expect(exactDecimal(signalAtNoLoad(line))).toBe('-0.01')
    expect(exactDecimal(sensorSignal(line, exact('500')))).toBe('1.9915')
  })

  it('leads back to the load exactly', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 10 ** 6 }),
        fc.integer({ min: 1, max: 10 ** 6 }),
        fc.integer({ min: -(10 ** 6), max: 10 ** 6 }),
        (output, capacity, load) => {
          const line = { ratedOutput: fromInteger(output), capacity: fromInteger(capacity), zeroBalance: exact('0.0123') }
          expect(loadAtSignal(line, sensorSignal(line, fromInteger(load))).equals(fromInteger(load))).toBe(true)
        },
      ),
      { numRuns: 100 },
    )
  })
})

describe('sensors in parallel', () => {
  // PC-1, from circuit theory (Millman, equal output resistances); worked beside this code (regression check)
  it('give the mean of their signals: four cells under 100, 150, 120 and 130 kg', () => {
    const cells = [
      ['2.0004', '100'],
      ['1.9989', '150'],
      ['2.0010', '120'],
      ['1.9997', '130'],
    ] as const
    const signals = cells.map(([output, load]) => sensorSignal(sensor(output, '500'), exact(load)))
    expect(exactDecimal(parallelSignal(signals))).toBe('0.499978')
  })

  it('of one kind give what one of them gives', () => {
    expect(parallelSignal([exact('1.5'), exact('1.5'), exact('1.5')]).equals(exact('1.5'))).toBe(true)
    expect(() => parallelSignal([])).toThrow(RangeError)
    expect(parallelSignal([zero]).equals(zero)).toBe(true)
  })
})
