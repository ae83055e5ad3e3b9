import { describe, expect, it } from 'vitest'
import type { Point } from '../../../app/job/schema.ts'
import { toDecimal } from '../../../app/quantity/exact.ts'
import { otherExcitation } from '../../../app/scaling/other-excitation.ts'
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
