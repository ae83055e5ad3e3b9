import { describe, expect, it } from 'vitest'
import type { Point } from '../../../app/job/schema.ts'
import { toDecimal } from '../../../app/quantity/exact.ts'
import { otherExcitation, takenAtOther } from '../../../app/scaling/other-excitation.ts'
import { heldImage } from '../../builders/held-image.ts'
import { kilograms, makePoint, makeProfile } from '../../builders/weighing-point.ts'

const ratiometric = makeProfile()
const inMillivolts = makeProfile({ input: { ratiometric: false, signalUnit: 'mV' } })
const mV = (value: string) => ({ value, unit: 'mV' as const })
const pairs = { loads: [kilograms('0'), kilograms('500')].map((load, i) => ({ load, signal: mV(i === 0 ? '0.1' : '10.1') })) }
const told = (measured: Partial<Point['measured']>, held: string, intended = {}, profile = inMillivolts, excitation = '4.98') => {
  const point = makePoint({ measured: { excitation: { value: excitation, unit: 'V' }, ...measured } })
  const found = otherExcitation(point, profile, heldImage(profile, { 'excitation.voltage@1': held }), intended)
  return (
    found && { ...found, measured: toDecimal(found.measured, 2), nominal: toDecimal(found.nominal, 1), times: toDecimal(found.times, 3) }
  )
}

describe('signals in mV reckoned with another excitation than the nominal one', () => {
  // by hand: 10 V / 4.98 V = 2.008; 2.5 V / 4.98 V = 0.502
  it('are told where another is held', () => {
    expect(told(pairs, '10 V')).toEqual({
      kept: { loads: 2, zero: false, shunt: false },
      measured: '4.98',
      nominal: '10.0',
      origin: 'held',
      times: '2.008',
    })
    expect(told({ zeroSignal: mV('0.1') }, '2.5 V')).toMatchObject({ kept: { loads: 0, zero: true }, times: '0.502' })
    expect(told({ shunt: { stated: mV('5'), measured: mV('4.9') } }, '10 V')).toMatchObject({ kept: { shunt: true } })
  })

  it('are none where each was kept with the excitation it was taken at', () => {
    const own = pairs.loads.map((pair) => ({ ...pair, excitation: { value: '9.98', unit: 'V' as const } }))
    expect(told({ loads: own }, '10 V', {}, ratiometric)).toBeUndefined()
    expect(told({ loads: [...own, ...pairs.loads] }, '10 V')).toMatchObject({ kept: { loads: 2 } })
  })

  it('are none of a zero or a shunt kept with its own, and of either without', () => {
    const own = { value: '9.98', unit: 'V' as const }
    const shunt = { stated: mV('5'), measured: mV('4.9') }
    expect(
      told({ zeroSignal: mV('0.1'), zeroExcitation: own, shunt: { ...shunt, excitation: own } }, '10 V', {}, ratiometric),
    ).toBeUndefined()
    expect(told({ zeroSignal: mV('0.1'), shunt: { ...shunt, excitation: own } }, '10 V')).toMatchObject({
      kept: { zero: true, shunt: false },
    })
  })

  it('are told where another is intended, and of what is held first', () => {
    expect(told(pairs, '5 V', { 'excitation.voltage@1': '10 V' })).toMatchObject({ nominal: '10.0', origin: 'intended', times: '2.008' })
    expect(told(pairs, '10 V', { 'excitation.voltage@1': '2.5 V' })).toMatchObject({ nominal: '10.0', origin: 'held' })
  })

  it('are told though they came from elsewhere, the indicator being ratiometric', () => {
    expect(told(pairs, '10 V', {}, ratiometric)).toMatchObject({ kept: { loads: 2 }, origin: 'held' })
  })

  it('are none within what leads take, or where nothing is measured', () => {
    expect(told(pairs, '5 V', { 'excitation.voltage@1': '5 V' })).toBeUndefined()
    expect(told(pairs, '5 V', {}, inMillivolts, '4')).toBeUndefined()
    expect(told(pairs, '5 V', {}, inMillivolts, '3.99')).toMatchObject({ measured: '3.99' })
    expect(otherExcitation(makePoint({ measured: pairs }), inMillivolts, heldImage(inMillivolts, {}), {})).toBeUndefined()
  })

  it('are none where nothing is in mV; a scaling in mV counts once the excitation is held', () => {
    const inRatio = { zeroSignal: { value: '0.1', unit: 'mV/V' as const } }
    expect(told(inRatio, '10 V', {}, ratiometric)).toBeUndefined()
    expect(told(inRatio, '10 V')).toMatchObject({ kept: { loads: 0, zero: false, shunt: false }, origin: 'held' })
    expect(told(inRatio, '5 V', { 'excitation.voltage@1': '10 V' })).toBeUndefined()
  })
})

describe('signals in mV taken at another excitation than the one now', () => {
  const volts = (value: string) => ({ value, unit: 'V' as const })
  const taken = (measured: Partial<Point['measured']>, held?: string) => {
    const image = held === undefined ? null : heldImage(inMillivolts, { 'excitation.voltage@1': held })
    const found = takenAtOther(makePoint({ measured }), inMillivolts, image)
    return found && [...found.taken.map(({ what, at }) => `${what} ${toDecimal(at, 2)}`), toDecimal(found.now, 2)]
  }
  const zero = { zeroSignal: mV('0.1'), zeroExcitation: volts('4.98') }

  it('are told, each with what it was taken at', () => {
    const shunt = { stated: mV('5'), measured: mV('4.9'), excitation: volts('2.5') }
    const loads = [{ load: kilograms('0'), signal: mV('0.1'), excitation: volts('4.97') }]
    expect(taken({ ...zero, shunt, loads, excitation: volts('9.97') })).toEqual(['loads 4.97', 'zero 4.98', 'shunt 2.50', '9.97'])
  })

  it('are told by the one held where that was not measured since, or not at all', () => {
    expect(taken({ ...zero, excitation: volts('4.98') }, '10 V')).toEqual(['zero 4.98', '10.00'])
    expect(taken(zero, '10 V')).toEqual(['zero 4.98', '10.00'])
    expect(taken({ ...zero, excitation: volts('4.98') }, '5 V')).toBeUndefined()
  })

  it('are none in mV/V, without one of their own, and where none is known now', () => {
    expect(taken({ zeroSignal: { value: '0.1', unit: 'mV/V' }, excitation: volts('9.97') }, '10 V')).toBeUndefined()
    expect(taken({ zeroSignal: mV('0.1'), excitation: volts('9.97') }, '10 V')).toBeUndefined()
    expect(taken(zero)).toBeUndefined()
  })
})
