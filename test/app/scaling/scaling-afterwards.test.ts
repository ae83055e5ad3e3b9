import { describe, expect, it } from 'vitest'
import { encodeIntended, findRegister, interpret } from '../../../app/profile/settings.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { scalingOffAfterwards } from '../../../app/scaling/scaling-afterwards.ts'
import { makeCertificate, makePoint, mvPerV } from '../../builders/weighing-point.ts'

const counts = bundledProfiles.get('counts-millivolt-input')!
const nothing = { at: '2026-01-01T00:00:00Z', values: {} }
const encoded = (values: Record<string, string>) => {
  const words = encodeIntended(counts, values, nothing)
  if (!words.ok) throw new Error(words.failure.why)
  return words.value
}

// by hand: 2 mV/V at 5 V are 10 mV at 500 kg, a quarter of the 8 388 607 counts of a range of 40 mV
const point = makePoint({ measured: { excitation: { value: '5', unit: 'V' } } }, [makeCertificate({ ratedOutput: mvPerV('2') })])
const held = {
  ...nothing,
  values: interpret(
    counts,
    encoded({
      'input.range@1': '40 mV',
      'reading.unit@1': 'kg',
      'scale.lower.counts@1': '0',
      'scale.lower.reading@1': '0',
      'scale.upper.counts@1': '2097152',
      'scale.upper.reading@1': '500',
    }),
  ),
}
const offOnce = (values: Record<string, string>) =>
  scalingOffAfterwards(
    [point],
    counts,
    held,
    [...encoded(values)].map(([key, words]) => ({ register: findRegister(counts, key)!, words })),
  )

describe('a scaling that would no longer fit', () => {
  it('after another input range is told with what it would imply: the same counts are half the signal', () => {
    expect(offOnce({ 'input.range@1': '20 mV' })).toEqual([
      expect.stringMatching(/^WT-101: as it would be written, the scaling implies 1\.0000 mV\/V at capacity, 50(\.0+)? % below/),
    ])
  })

  it('after another unit is told: tonnes shown as kilograms', () => {
    expect(offOnce({ 'reading.unit@1': 't' })).toEqual([expect.stringContaining('99.9 % below')])
  })

  it('after a unit of another kind is told as such', () => {
    expect(offOnce({ 'reading.unit@1': 'bar' })).toEqual([expect.stringMatching(/^WT-101: .*bar/)])
  })

  it('is none where range and counts change together, or nothing that bears on it', () => {
    expect(offOnce({ 'input.range@1': '20 mV', 'scale.upper.counts@1': '4194304' })).toEqual([])
    expect(offOnce({ 'input.range@1': '40 mV' })).toEqual([])
    expect(offOnce({})).toEqual([])
  })
})
