import { describe, expect, it } from 'vitest'
import { headOf, heightOfHead, pressureFelt, rangeHolds, signalInRange } from '../../../app/loadpath/pressure.ts'
import { exact, exactDecimal } from '../../../app/quantity/exact.ts'
import { units } from '../../../app/quantity/units.ts'

// By hand
describe('the pressure that a sensor feels', () => {
  const pressures = { process: exact('4.5'), ambient: exact('1.01325'), lowSide: exact('1.5') }

  it('is counted from the air, from vacuum, or from its other side', () => {
    const felt = (['gauge', 'absolute', 'differential'] as const).map((kind) => pressureFelt(kind, pressures))
    expect(felt.map((p) => p && exactDecimal(p))).toEqual(['3.48675', '4.5', '3'])
  })

  it('is not known where the other side is not', () => {
    expect(pressureFelt('differential', { process: exact('1'), ambient: exact('1') })).toBeUndefined()
  })
})

describe('a compound range', () => {
  const range = { from: exact('-1'), to: exact('3') }

  it('has nought inside, with a quarter of the signal', () => {
    const at = (pressure: string) => exactDecimal(signalInRange(range, { from: exact('0'), to: exact('2') }, exact(pressure)))
    expect([at('-1'), at('0'), at('3')]).toEqual(['0', '0.5', '2'])
  })

  it('holds a vacuum, which a range from nought does not', () => {
    expect(rangeHolds(range, exact('-0.8'))).toBe(true)
    expect(rangeHolds({ from: exact('0'), to: exact('3') }, exact('-0.8'))).toBe(false)
    expect(() => signalInRange({ from: exact('1'), to: exact('1') }, range, exact('1'))).toThrow(RangeError)
  })
})

describe('head of fluid', () => {
  const gravity = exact('9.80665')

  // NIST SP 811 (2008) B.8: conventional millimetre of water is 9.80665 Pa, at 1000 kg/m³
  it('of one millimetre of water is the conventional millimetre of water', () => {
    const head = headOf([{ height: exact('0.001'), density: exact('1000') }], gravity)
    expect(exactDecimal(head)).toBe(units.mmH2O.factor)
    expect(exactDecimal(heightOfHead(head, exact('1000'), gravity))).toBe('0.001')
  })

  it('takes away below the reference', () => {
    const columns = [
      { height: exact('2'), density: exact('1000') },
      { height: exact('-0.5'), density: exact('800') },
    ]
    expect(exactDecimal(headOf(columns, exact('10')))).toBe('16000')
  })
})
