import { describe, expect, it } from 'vitest'
import type { Profile } from '../../../app/profile/schema.ts'
import { findRegister } from '../../../app/profile/settings.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { toDecimal } from '../../../app/quantity/exact.ts'
import { type OffAfterwards, scalingAsIntended, scalingOffAfterwards } from '../../../app/scaling/scaling-afterwards.ts'
import { encodeSettings, heldImage } from '../../builders/held-image.ts'
import { makeCertificate, makeDigitsProfile, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

const counts = bundledProfiles.get('counts-millivolt-input')!
const certificates = [makeCertificate({ ratedOutput: mvPerV('2') })]
const fedWith = (volts: string) => makePoint({ measured: { excitation: { value: volts, unit: 'V' } } }, certificates)

// by hand: 2 mV/V at 5 V are 10 mV at 500 kg, a quarter of the 8 388 607 counts of a range of 40 mV
const point = fedWith('5')
const held = heldImage(counts, {
  'input.range@1': '40 mV',
  'reading.unit@1': 'kg',
  'scale.lower.counts@1': '0',
  'scale.lower.reading@1': '0',
  'scale.upper.counts@1': '2097152',
  'scale.upper.reading@1': '500',
})
const offOnce = (values: Record<string, string>, profile = counts, image = held, at = point) =>
  scalingOffAfterwards(
    [at],
    profile,
    image,
    [...encodeSettings(profile, values)].map(([key, words]) => ({ register: findRegister(profile, key)!, words })),
  )
const percent = (off: OffAfterwards | undefined) => off?.kind === 'off' && toDecimal(off.implied.differencePercent, 1)

describe('a scaling that would no longer fit', () => {
  it('after another input range is told with what it would imply: the same counts are half the signal', () => {
    expect(offOnce({ 'input.range@1': '20 mV' })).toEqual([
      expect.stringMatching(
        /^WT-101: as it would be written, the scaling implies 1\.0000 mV\/V at capacity, 50(\.0+)? % below .* Work it out for this input range/,
      ),
    ])
  })

  it('after another unit is told: tonnes shown as kilograms', () => {
    expect(offOnce({ 'reading.unit@1': 't' })).toEqual([expect.stringContaining('99.9 % below')])
  })

  it('after a unit of another kind is told as such', () => {
    const told = [expect.stringMatching(/^WT-101: .*bar.* The indicator has to show a unit of mass or force\.$/)]
    expect(offOnce({ 'reading.unit@1': 'bar' })).toEqual(told)
    const withoutCertificate = { ...point, sensors: { ...point.sensors, certificates: [] } }
    expect(offOnce({ 'reading.unit@1': 'bar' }, counts, held, withoutCertificate)).toEqual(told)
    expect(offOnce({ 'reading.unit@1': 'kg' }, counts, held, withoutCertificate)).toEqual([])
  })

  it('is none where range and counts change together, or nothing that bears on it', () => {
    expect(offOnce({ 'input.range@1': '20 mV', 'scale.upper.counts@1': '4194304' })).toEqual([])
    expect(offOnce({ 'input.range@1': '40 mV' })).toEqual([])
    expect(offOnce({})).toEqual([])
    const wrongAlready = { ...point, sensors: { ...point.sensors, certificates: [makeCertificate({ ratedOutput: mvPerV('1') })] } }
    expect(offOnce({ 'filter.cutoff@1': '2 Hz' }, counts, held, wrongAlready)).toEqual([])
  })
})

describe('a scaling that would no longer fit another excitation', () => {
  const pairs = { 'scale.lower.signal@1': '0', 'scale.lower.reading@1': '0', 'scale.upper.reading@1': '500', 'reading.unit@1': 'kg' }
  const inMillivolts = makeProfile({
    input: { ratiometric: false, signalUnit: 'mV' },
    registers: (r) => (/^scale\..*\.signal$/.test(r.name) ? { unit: 'mV', limits: { from: '-35', to: '35' } } : {}),
  })
  const other = (profile: Profile, upper: string, volts = '10 V') =>
    offOnce(
      { 'excitation.voltage@1': volts },
      profile,
      heldImage(profile, { ...pairs, 'excitation.voltage@1': '5 V', 'scale.upper.signal@1': upper }),
      fedWith('4.98'),
    )

  // by hand: 2 mV/V at 4.98 V are 9.96 mV; twice the excitation makes it 1 mV/V
  it('is told where signals are held in mV, with the excitation that is reckoned on', () => {
    expect(other(inMillivolts, '9.96')).toEqual([
      expect.stringMatching(/implies 1\.0000 mV\/V .* The 4\.98 V of excitation measured are taken as 9\.96 V, in proportion: write/),
    ])
  })

  it('is reckoned by the excitation measured where that stays', () => {
    expect(other(inMillivolts, '4.98', '5 V')).toEqual([expect.stringMatching(/implies 1\.0000 mV\/V .* Work it out for this input range/)])
  })

  it('is none where they are held in mV/V, since the excitation cancels', () => {
    expect(other(makeProfile(), '2')).toEqual([])
  })
})

describe('a scaling that would no longer fit other decimals', () => {
  const values = {
    'reading.decimals@1': '1',
    'reading.unit@1': 'kg',
    'scale.lower.signal@1': '0',
    'scale.lower.reading@1': '0.0',
    'scale.upper.signal@1': '2.000',
    'scale.upper.reading@1': '500.0',
  }
  const twoDecimals = (profile: Profile) => offOnce({ 'reading.decimals@1': '2' }, profile, heldImage(profile, values))

  it('is told where the raw number of a reading stays: 500.0 becomes 50.00', () => {
    expect(twoDecimals(makeDigitsProfile(3))).toEqual([expect.stringMatching(/implies 20\.0000 mV\/V .* 900(\.0+)? % above/)])
  })

  it('is none where the indicator keeps the value of a reading', () => {
    const moves = ['scale.lower.reading', 'scale.upper.reading']
    expect(
      twoDecimals({ ...makeDigitsProfile(3), dependencies: [{ when: 'reading.decimals', moves, evidence: 'invented', why: 'as said' }] }),
    ).toEqual([])
  })
})

describe('a scaling that would not fit what is only intended', () => {
  const asIntended = (intended: Record<string, string>) => scalingAsIntended(point, counts, held, intended)

  it('is judged as it would be after a write', () => {
    expect(percent(asIntended({ 'input.range@1': '20 mV' }))).toBe('-50.0')
    expect(asIntended({ 'reading.unit@1': 'bar' })).toMatchObject({
      kind: 'unit-of-another-kind',
      failure: { unit: 'bar', pointUnit: 'kg' },
    })
  })

  it('is none where the intended scaling fits the intended range, or what is intended is held', () => {
    expect(asIntended({ 'input.range@1': '20 mV', 'scale.upper.counts@1': '4194304' })).toBeUndefined()
    expect(asIntended({ 'input.range@1': '40 mV', 'scale.upper.counts@1': '2097152' })).toBeUndefined()
    expect(asIntended({})).toBeUndefined()
  })

  it('is judged by the scaling intended, not by the one held', () => {
    expect(percent(asIntended({ 'scale.upper.counts@1': '4194304' }))).toBe('100.0')
  })

  it('is not judged where it could not be written', () => {
    expect(asIntended({ 'input.range@1': '20 mV', 'input.size@1': '3' })).toBeUndefined()
  })
})
