import { describe, expect, it } from 'vitest'
import type { LiveSample } from '../../../app/contract/views.ts'
import { findRegister } from '../../../app/profile/settings.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { atInputLimit } from '../../../app/scaling/input-limit.ts'
import { tooSmallAfterwards } from '../../../app/scaling/too-small.ts'
import { encodeSettings, heldImage } from '../../builders/held-image.ts'
import { kilograms, makeCertificate, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

const profile = makeProfile()
const certificates = [makeCertificate({ ratedOutput: mvPerV('2') })]
const holdingRange = (range: string) => heldImage(profile, { 'input.range@1': range })

const sampleOf = (signal: string | null, change: Partial<LiveSample> = {}): LiveSample => ({
  pointId: 'p1',
  at: 0,
  reading: '0.0',
  gross: '0.0',
  unit: 'kg',
  signal,
  signalUnit: 'mV/V',
  signalOrigin: 'measured',
  status: [],
  ...change,
})

describe('an input at its limit', () => {
  const at = (sample: LiveSample, held = holdingRange('2 mV/V')) => atInputLimit(makePoint(), profile, held, sample)

  it('is one whose signal is at the end of the range held, on either side', () => {
    expect([at(sampleOf('2.00000')), at(sampleOf('-2.00001')), at(sampleOf('1.99999'))]).toEqual([true, true, false])
    expect(at(sampleOf('2.00000'), holdingRange('3.5 mV/V'))).toBe(false)
  })

  it('is one whose signal is close to it where the indicator says that it is out of range', () => {
    expect(at(sampleOf('1.997', { status: ['over-range'] }))).toBe(true)
    expect(at(sampleOf('-1.997', { status: ['under-range'] }))).toBe(true)
    expect(at(sampleOf('1.997', { status: ['motion'] }))).toBe(false)
    expect(at(sampleOf('1.99', { status: ['over-range'] }))).toBe(false)
  })

  it('is not told of a signal that is derived or none, nor of a range that is only intended', () => {
    expect(at(sampleOf('2.5', { signalOrigin: 'derived' }))).toBe(false)
    expect(at(sampleOf(null))).toBe(false)
    expect(atInputLimit(makePoint({ intended: { 'input.range@1': '1 mV/V' } }), profile, null, sampleOf('2.5'))).toBe(false)
  })

  it('compares by the excitation where range and signal are in different units', () => {
    const counts = bundledProfiles.get('counts-millivolt-input')!
    const held = heldImage(counts, { 'input.range@1': '10 mV' })
    const fed = makePoint({ measured: { excitation: { value: '5', unit: 'V' } } })
    // by hand: 2 mV/V at 5 V are 10 mV
    expect(atInputLimit(fed, counts, held, sampleOf('2'))).toBe(true)
    expect(atInputLimit(fed, counts, held, sampleOf('1.99'))).toBe(false)
  })
})

describe('what is too small once settings stand', () => {
  const cautions = (point: ReturnType<typeof makePoint>, values: Record<string, string>, sample?: LiveSample) =>
    tooSmallAfterwards(
      [point],
      profile,
      holdingRange('2 mV/V'),
      [...encodeSettings(profile, values)].map(([key, words]) => ({ register: findRegister(profile, key)!, words })),
      () => sample,
    )
  const fits = makePoint({ maximumLoad: '450' }, certificates)

  it('is nothing where sensors and input have room', () => {
    expect(cautions(fits, { 'input.range@1': '3.5 mV/V' }, sampleOf('1'))).toEqual([])
  })

  // by hand: 450 of 500 kg at 2 mV/V are 1.8 mV/V
  it('names an input that would saturate', () => {
    expect(cautions(fits, { 'input.range@1': '1 mV/V' })).toEqual([
      'WT-101: At maximum load 1.800 mV/V are expected; the input saturates at 1 mV/V. Choose a larger range.',
    ])
  })

  it('names sensors whose capacity is below maximum load and dead load', () => {
    const overloaded = makePoint({ maximumLoad: '600', loadPath: { deadLoad: kilograms('150') } }, certificates)
    expect(cautions(overloaded, { 'input.range@1': '3.5 mV/V' })).toEqual([
      "WT-101: Maximum load and dead load are 150 % of the sensors' capacity (500.00 kg at this point). The sensors are too small for it.",
    ])
  })

  it('names an input that is at its limit now', () => {
    expect(cautions(fits, { 'input.range@1': '3.5 mV/V' }, sampleOf('2'))).toEqual([
      expect.stringMatching(/^WT-101: The input is at its limit now/),
    ])
  })

  it('says nothing of it where what is written has no bearing on the signal', () => {
    expect(cautions(makePoint({ maximumLoad: '600' }, certificates), { 'filter.time@1': '0.50' }, sampleOf('2'))).toEqual([])
  })
})
