import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Point } from '../../../app/job/schema.ts'
import type { Profile } from '../../../app/profile/schema.ts'
import { encodeIntended } from '../../../app/profile/settings.ts'
import { exact, exactDecimal, exactFromNumber, fromInteger } from '../../../app/quantity/exact.ts'
import { type Measured, proposeScaling } from '../../../app/scaling/propose-scaling.ts'
import { explainScalingFailure } from '../../../app/scaling/scaling-failure.ts'
import { kilograms, makeCertificate, makeDigitsProfile, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

const propose = (point: Point, profile: Profile = makeProfile(), measured: Measured = {}) => {
  const result = proposeScaling(point, profile, measured)
  if (!result.ok) throw new Error(explainScalingFailure(result.failure))
  return result.value
}
const refusal = (point: Point, profile: Profile = makeProfile(), measured: Measured = {}) => {
  const result = proposeScaling(point, profile, measured)
  if (result.ok) throw new Error('a scaling was proposed')
  expect(explainScalingFailure(result.failure)).toMatch(/\.$/)
  return result.failure.kind
}

describe('what an indicator with single floats is to hold', () => {
  const proposal = propose(
    makePoint({ loadPath: { deadLoad: kilograms('50') } }, [
      makeCertificate({ zeroBalance: mvPerV('0.0123'), excitationRecommended: { value: '5', unit: 'V' } }),
    ]),
  )

  // (0.0123 + 2.0015 x 50/500) and 2.0015 mV/V more at 500 kg; by hand
  it('is the pair at zero and the pair at maximum load, with range, excitation, unit, decimals and interval', () => {
    expect(proposal.intended).toEqual({
      'input.range@1': '3.5 mV/V',
      'excitation.voltage@1': '5 V',
      'reading.unit@1': 'kg',
      'reading.decimals@1': '1',
      'reading.interval@1': '0.1',
      'scale.lower.signal@1': '0.21245',
      'scale.lower.reading@1': '0',
      'scale.upper.signal@1': '2.21395',
      'scale.upper.reading@1': '500',
    })
  })

  // Math.fround is the JavaScript engine's own roundTiesToEven (IEEE 754-2019) to single
  it('states the rounding error of the singles exactly', () => {
    const [low, high] = [exactFromNumber(Math.fround(0.21245)), exactFromNumber(Math.fround(2.21395))]
    const shown = exact('2.0015').mul(exact('500')).div(high.sub(low))
    expect(proposal.pairs.rounding.atMaximum.units.equals(shown.sub(exact('500')))).toBe(true)
    expect(proposal.pairs.rounding.atMaximum.units.equals(exact('0'))).toBe(false)
    expect(proposal.pairs.rounding.zeroShift.units.equals(exact('0.21245').sub(low).mul(exact('500')).div(high.sub(low)))).toBe(true)
    // singles from 2 to 4 lie 2^-22 apart
    expect(
      proposal.pairs.rounding.atMost.units.equals(
        exact('500')
          .mul(fromInteger(1).div(fromInteger(2 ** 23)))
          .div(high.sub(low)),
      ),
    ).toBe(true)
  })

  it('is taken by the profile as it stands', () => {
    expect(encodeIntended(makeProfile(), proposal.intended, { at: '2026-01-01T00:00:00Z', values: {} }).ok).toBe(true)
  })
})

describe('what whole-number digits cost', () => {
  // 120 kg on 500 kg and 2.0015 mV/V is 0.48036 mV/V; three decimals hold 0.480, 0.00036 short. By hand:
  // reading at maximum load 120 x 0.48036/0.480 = 120.09 kg; half a digit 0.0005/0.480 x 120 = 0.125 kg
  const point = makePoint({ maximumLoad: '120', scaleInterval: '0.1' })

  it('is told in units, scale intervals and percent, with half a digit over the signal span as its bound', () => {
    const { rounding } = propose(point, makeDigitsProfile(3)).pairs
    expect(Object.values(rounding.atMaximum).map(exactDecimal)).toEqual(['0.09', '0.9', '0.075'])
    expect(exactDecimal(rounding.atMost.units)).toBe('0.125')
    expect(exactDecimal(rounding.zeroShift.units)).toBe('0')
  })

  it('falls with more decimals', () => {
    expect(exactDecimal(propose(point, makeDigitsProfile(5)).pairs.rounding.atMaximum.units)).toBe('0')
  })

  it('is lowered by other pairs on the same line, up to maximum load only unless the profile allows more', () => {
    const within = propose(point, makeDigitsProfile(3)).alternatives
    expect(within.length).toBeGreaterThan(0)
    for (const pair of within) {
      expect(Number(pair.upper.reading)).toBeLessThanOrEqual(120)
      expect(pair.rounding.atMaximum.units.abs().lt(exact('0.09'))).toBe(true)
    }
    const readings = (profile: Profile) => propose(point, profile).alternatives.map((p) => Number(p.upper.reading))
    expect(Math.max(...readings(makeDigitsProfile(3, true)))).toBeGreaterThan(120)
    expect(Math.max(...readings(makeDigitsProfile(3, true)))).toBeLessThanOrEqual(500)
  })

  // 5 kg are 0.020015 mV/V: every whole interval up to 120 kg loses 0.000003 mV/V in 1 kg to three decimals, the same share
  it('is not answered with pairs that cost as much', () => {
    const coarse = propose(makePoint({ maximumLoad: '120', scaleInterval: '5' }), makeDigitsProfile(3))
    expect(exactDecimal(coarse.pairs.rounding.atMaximum.units)).toBe('0.09')
    expect(coarse.alternatives).toEqual([])
  })

  it('never is more than its bound, wherever zero and maximum load lie', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1000, max: 5000 }),
        fc.integer({ min: 0, max: 2000 }),
        fc.integer({ min: 15_000, max: 30_000 }),
        fc.integer({ min: 2, max: 6 }),
        (maximum, dead, output, decimals) => {
          const at = makePoint({ maximumLoad: `${maximum}`, scaleInterval: '1', loadPath: { deadLoad: kilograms(`${dead}`) } }, [
            makeCertificate({
              capacity: kilograms('8000'),
              ratedOutput: mvPerV(`${Math.floor(output / 10_000)}.${String(output % 10_000).padStart(4, '0')}`),
            }),
          ])
          for (const profile of [makeDigitsProfile(decimals), makeProfile()]) {
            const { rounding } = propose(at, profile).pairs
            expect(rounding.atMaximum.units.abs().lte(rounding.atMost.units)).toBe(true)
          }
        },
      ),
      { numRuns: 40 },
    )
  })
})

describe('the lower pair', () => {
  it('lies at the measured zero where there is one, and what certificates leave open is no longer said', () => {
    const point = makePoint({ loadPath: {} })
    expect(propose(point).warnings.map((w) => w.kind)).toContain('dead-load-not-stated')
    const measured = propose(point, makeProfile(), { zeroSignal: mvPerV('0.1234') })
    expect(measured.zeroFrom).toBe('measured')
    expect(measured.intended['scale.lower.signal@1']).toBe('0.1234')
    expect(measured.intended['scale.upper.signal@1']).toBe('2.1249')
    expect(measured.warnings.map((w) => w.kind)).not.toContain('dead-load-not-stated')
  })

  it('goes by the excitation that a zero in mV was taken at, not by the one measured since', () => {
    const taken = { zeroSignal: { value: '0.5', unit: 'mV' }, excitation: { value: '10', unit: 'V' } } as const
    const lower = (more: object) => propose(makePoint(), makeProfile(), { ...taken, ...more }).intended['scale.lower.signal@1']
    // by hand: 0.5 mV by 5 V is 0.1 mV/V, by 10 V half of it
    expect(lower({ zeroExcitation: { value: '5', unit: 'V' } })).toBe('0.1')
    expect(lower({})).toBe('0.05')
  })
})

describe('the input range', () => {
  const rangeAt = (maximumLoad: string, dead = '0') =>
    propose(makePoint({ maximumLoad, loadPath: { deadLoad: kilograms(dead) } })).intended['input.range@1']

  // 2.0015 mV/V at 500 kg: with a tenth more, 1 mV/V is reached at 227.1 kg and 2 mV/V at 454.2 kg; by hand
  it('is the smallest that holds dead load, maximum load and a tenth of the span more', () => {
    expect([rangeAt('227'), rangeAt('228'), rangeAt('454'), rangeAt('455')]).toEqual(['1 mV/V', '2 mV/V', '2 mV/V', '3.5 mV/V'])
    expect(rangeAt('227', '10')).toBe('2 mV/V')
  })

  // 2.0015 mV/V x 227 / 500 x 1.1 = 0.9996 mV/V, and for 455 kg 2.0036 mV/V; by hand
  it('is the one that is intended, where it holds them; else the smallest that does, and that is said', () => {
    const intending = (means: string, maximumLoad: string) => propose(makePoint({ maximumLoad, intended: { 'input.range@1': means } }))
    const larger = intending('3.5 mV/V', '227')
    expect(larger.intended['input.range@1']).toBe('3.5 mV/V')
    expect(larger.input.why).toMatch(/^3\.5 mV\/V is intended\. 1 mV\/V is the smallest range that holds/)
    expect(larger.warnings.map((w) => w.kind)).not.toContain('intended-range-too-small')
    const small = intending('2 mV/V', '455')
    expect(small.intended['input.range@1']).toBe('3.5 mV/V')
    expect(small.warnings.map((w) => w.kind)).toContain('intended-range-too-small')
  })

  it('is refused where none holds the signal', () => {
    expect(refusal(makePoint({ loadPath: { deadLoad: kilograms('400') } }))).toBe('signal-beyond-input')
  })

  // 2.0015 mV/V x 10 V / 5000 intervals = 4.003 uV; by hand
  it('comes with the signal of one scale interval, and a warning where that is too small for the indicator', () => {
    const cell = makeCertificate({ excitationRecommended: { value: '10', unit: 'V' } })
    const microvolts = propose(makePoint({}, [cell])).input.microvoltsPerInterval
    expect(microvolts && exactDecimal(microvolts)).toBe('4.003')
    const fine = propose(makePoint({ scaleInterval: '0.002' }, [cell]))
    expect(fine.warnings.map((w) => w.kind)).toContain('signal-per-interval-small')
  })
})

describe('the excitation', () => {
  const excitationOf = (certificates: ReturnType<typeof makeCertificate>[]) =>
    propose(makePoint({}, certificates)).intended['excitation.voltage@1']
  const volts = (value: string) => ({ value, unit: 'V' as const })

  it('is the largest that sensors and supply stand', () => {
    expect(excitationOf([makeCertificate({ excitationMaximum: volts('12') })])).toBe('10 V')
    expect(excitationOf([makeCertificate({ excitationMaximum: volts('7') })])).toBe('5 V')
    // four of 300 ohm take 133 mA at 10 V, the supply gives 120 mA
    const four = Array.from({ length: 4 }, () =>
      makeCertificate({ excitationMaximum: volts('12'), inputResistance: { value: '300', unit: 'ohm' } }),
    )
    expect(excitationOf(four)).toBe('5 V')
  })

  it('is left alone and said so where no certificate states one', () => {
    const proposal = propose(makePoint())
    expect(proposal.intended['excitation.voltage@1']).toBeUndefined()
    expect(proposal.warnings.map((w) => w.kind)).toEqual(['excitation-not-stated'])
  })

  it('is the one that is intended, where sensors and supply stand it; else it is said that it is not taken', () => {
    const cell = [makeCertificate({ excitationMaximum: volts('12') })]
    const intending = (means: string, certificates = cell) =>
      propose(makePoint({ intended: { 'excitation.voltage@1': means } }, certificates))
    const kept = intending('5 V')
    expect(kept.intended['excitation.voltage@1']).toBe('5 V')
    expect(kept.excitationWhy).toBe('5 V is intended. 10 V: the largest that sensors (maximum 12 V) and supply stand.')
    expect(kept.warnings).toEqual([])
    const beyond = intending('10 V', [makeCertificate({ excitationMaximum: volts('7') })])
    expect(beyond.intended['excitation.voltage@1']).toBe('5 V')
    expect(beyond.warnings.map((w) => w.kind)).toEqual(['intended-excitation-not-taken'])
  })

  it('that is intended beside the one certified is told', () => {
    const inMillivolts = makeCertificate({
      ratedOutput: { value: '20', unit: 'mV' },
      certifiedAt: volts('10'),
      excitationMaximum: volts('12'),
    })
    const { intended, warnings } = propose(makePoint({ intended: { 'excitation.voltage@1': '5 V' } }, [inMillivolts]))
    expect(intended['excitation.voltage@1']).toBe('5 V')
    expect(warnings).toMatchObject([{ kind: 'excitation-differs-from-certificate', why: expect.stringContaining('5 V is intended') }])
  })

  it('is never one that the sensors do not stand', () => {
    const proposal = propose(makePoint({}, [makeCertificate({ excitationMaximum: volts('2') })]))
    expect(proposal.intended['excitation.voltage@1']).toBeUndefined()
    expect(proposal.warnings.map((w) => w.kind)).toEqual(['excitation-too-high'])
  })
})

describe('an input in mV', () => {
  const millivolts = makeProfile({
    input: { ratiometric: false, signalUnit: 'mV' },
    registers: (r) => (r.name.startsWith('scale.') && r.name.endsWith('signal') ? { unit: 'mV', limits: { from: '-35', to: '35' } } : {}),
  })

  it('needs the excitation measured', () => {
    expect(refusal(makePoint(), millivolts)).toBe('excitation-not-measured')
    const { intended } = propose(makePoint(), millivolts, { excitation: { value: '9.98', unit: 'V' } })
    // 2.0015 x 9.98, by hand
    expect(intended['scale.upper.signal@1']).toBe('19.97497')
  })
})

describe('what an indicator cannot hold', () => {
  it.each([
    [
      'a unit that it does not show',
      makePoint({ unit: 'oz', loadPath: { deadLoad: { value: '0', unit: 'oz' } } }),
      makeProfile(),
      'unit-not-offered',
    ],
    ['a scale interval with more decimals than it shows', makePoint({ scaleInterval: '0.00005' }), makeProfile(), 'interval-not-held'],
    [
      'a signal beyond the limits of its register',
      makePoint(),
      makeProfile({ registers: (r) => (r.name === 'scale.upper.signal' ? { limits: { from: '0', to: '2' } } : {}) }),
      'not-accepted',
    ],
    [
      'a profile without the upper signal',
      makePoint(),
      makeProfile({ registers: (r) => (r.name === 'scale.upper.signal' ? null : {}) }),
      'register-missing',
    ],
    ['a span below its last digit', makePoint({ maximumLoad: '0.1', scaleInterval: '0.1' }), makeDigitsProfile(2), 'no-span-left'],
  ])('%s', (_, point, profile, kind) => {
    expect(refusal(point, profile)).toBe(kind)
  })
})
