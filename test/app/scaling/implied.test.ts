import { describe, expect, it } from 'vitest'
import type { Point, SettingsImage } from '../../../app/job/schema.ts'
import { exact, exactDecimal } from '../../../app/quantity/exact.ts'
import { explainImpliedFailure, impliedByHeld } from '../../../app/scaling/implied.ts'
import { suspect, usualSlips } from '../../../app/scaling/slips.ts'
import { kilograms, makeCertificate, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

const held = (upperSignal: string, upperReading: string, unit = 'kg', lowerSignal = '0'): SettingsImage => ({
  at: '2026-01-01T00:00:00Z',
  values: Object.fromEntries(
    Object.entries({
      'scale.lower.signal@1': lowerSignal,
      'scale.lower.reading@1': '0',
      'scale.upper.signal@1': upperSignal,
      'scale.upper.reading@1': upperReading,
      'reading.unit@1': unit,
    }).map(([key, value]) => [key, { words: [], value }]),
  ),
})
const point = makePoint({}, [makeCertificate({ ratedOutput: mvPerV('2') })])
const implied = (image: SettingsImage, at: Point = point) => {
  const result = impliedByHeld(at, makeProfile(), image)
  if (!result.ok) throw new Error(explainImpliedFailure(result.failure))
  return result.value
}

describe('the sensitivity that held values imply', () => {
  it('is that of the certificate where they agree, whatever the zero', () => {
    const { sensitivity, differencePercent, suspicions } = implied(held('2.25', '500', 'kg', '0.25'))
    expect(exactDecimal(sensitivity)).toBe('2')
    expect(exactDecimal(differencePercent)).toBe('0')
    expect(suspicions).toEqual([])
  })

  // by hand: 1.99 mV/V at 250 kg is 3.98 mV/V at 500 kg, 99 % more
  it('is taken at capacity, and the difference in percent of the certificate', () => {
    const { sensitivity, differencePercent } = implied(held('1.99', '250'))
    expect(exactDecimal(sensitivity)).toBe('3.98')
    expect(exactDecimal(differencePercent)).toBe('99')
  })

  it('is taken at capacity also where maximum load is less', () => {
    const part = makePoint({ maximumLoad: '300' }, [makeCertificate({ ratedOutput: mvPerV('2') })])
    expect(exactDecimal(implied(held('1.2', '300'), part).sensitivity)).toBe('2')
  })

  it('suspects nothing behind an ordinary adjustment', () => {
    const result = implied(held('2.003', '500'))
    expect(result.suspicions).toEqual([])
    expect(result.summary).toBe('2.0030 mV/V at capacity, 0.150 % above the certified 2.0000 mV/V')
  })

  it('converts the unit that the indicator shows: 1102.31 lb are 500 kg', () => {
    // NIST SP 811 (2008) B.8: lb = 0.45359237 kg
    expect(
      implied(held('2', '1102.31131', 'lb'))
        .differencePercent.abs()
        .lt(exact('0.000001')),
    ).toBe(true)
  })
})

describe('suspicions', () => {
  // Ratios: NIST SP 811 (2008) B.8 (lb 0.45359237 kg; kgf 9.80665 N) and plain counting
  it.each([
    ['500 lb entered for 500 kg', held('2', '226.8'), 'lb and kg mixed up'],
    ['500 kg entered as 1102 lb but shown as kg', held('2', '1102.3'), 'lb and kg mixed up'],
    ['500 N entered for 500 kg', held('2', '50.99'), 'N and kg mixed up'],
    ['4 sensors entered as one', held('2', '2000'), 'one sensor counted for 4, or 4 for one'],
    ['half the capacity', held('2', '250'), 'a factor of 2'],
    ['mV at 10 V taken for those at 5 V', held('4', '500'), 'an excitation of 10 V taken for 5 V, or the other way round'],
    ['a decimal sign slipped', held('2', '50'), 'a factor of 10'],
    ['short tons for tonnes', held('2', '551'), 'ton (US) and t mixed up'],
  ])('%s', (name, image, what) => {
    const at = name.startsWith('short')
      ? makePoint({ unit: 't', loadPath: {} }, [makeCertificate({ capacity: { value: '500', unit: 't' }, ratedOutput: mvPerV('2') })])
      : point
    const unit = name.startsWith('short') ? { ...image, values: { ...image.values, 'reading.unit@1': { words: [], value: 't' } } } : image
    expect(implied(unit, at).suspicions.map((s) => s.what)).toContain(what)
  })

  it('names all within 2 %, nearest first, and nothing farther', () => {
    const slips = usualSlips(['kg'], 4)
    const names = (ratio: string) => suspect(exact(ratio), slips).map((s) => s.what)
    // 10 and 9.80665 lie 1.97 % apart: both are named from either side, the nearer first
    expect(names('9.80665').filter((n) => n === 'N and kg mixed up' || n === 'a factor of 10')).toEqual([
      'N and kg mixed up',
      'a factor of 10',
    ])
    expect(names('10').filter((n) => n === 'N and kg mixed up' || n === 'a factor of 10')).toEqual(['a factor of 10', 'N and kg mixed up'])
    expect(names('9.9')).toEqual(expect.arrayContaining(['N and kg mixed up', 'a factor of 10']))
    expect(names('2.05')).not.toContain('a factor of 2')
    expect(names('2.04')).toContain('a factor of 2')
    expect(names('0.49')).toContain('a factor of 2')
    expect(names('1')).toEqual([])
  })

  // a long ton is 1.016 t (NIST SP 811 (2008) B.8), within 2 % of many an ordinary difference
  it('names no slip that explains the ratio worse than none does', () => {
    const slips = usualSlips(['t'], 1)
    expect(suspect(exact('1.003'), slips)).toEqual([])
    expect(suspect(exact('1.016'), slips).map((s) => s.what)).toEqual(['ton (UK) and t mixed up', 'tonf (UK) and t mixed up'])
  })

  it('tells bar from the technical atmosphere though they differ by 2 % only', () => {
    const found = suspect(exact('98066.5/100000'), usualSlips(['bar'], 1))
    expect(found[0]?.what).toBe('kgf/cm\u00b2 and bar mixed up')
  })

  it('counts the sensors of the point', () => {
    expect(
      usualSlips(['kg'], 6)
        .filter((s) => s.kind === 'sensors')
        .map((s) => exactDecimal(s.ratio)),
    ).toContain('6')
  })
})

describe('no sensitivity is derived', () => {
  const kindOf = (image: SettingsImage, at = point, profile = makeProfile()) => {
    const result = impliedByHeld(at, profile, image)
    if (result.ok) return 'derived'
    expect(explainImpliedFailure(result.failure)).toMatch(/\.$/)
    return result.failure.kind
  }

  it.each([
    ['from equal pairs', held('0', '500'), point, 'no-span-held'],
    ['from a register that was not read', { ...held('2', '500'), values: {} }, point, 'not-read'],
    ['from a unit of another kind', held('2', '500', 'bar'), point, 'unit-of-another-kind'],
    ['from a point without certificate', held('2', '500'), makePoint({}, []), 'certificates'],
  ])('%s', (_, image, at, kind) => {
    expect(kindOf(image, at)).toBe(kind)
  })

  it('from a model that leaves nothing to read, or signals in mV without the excitation measured', () => {
    expect(kindOf(held('2', '500'), point, makeProfile({ scaling: { model: 'front-panel-entry', evidence: 'invented' } }))).toBe(
      'model-not-computed',
    )
    expect(
      kindOf(held('2', '500'), point, makeProfile({ registers: (r) => (r.name === 'scale.upper.signal' ? { unit: 'mV' } : {}) })),
    ).toBe('signal-in-millivolts')
  })

  it('across mass and force without gravity, but with it', () => {
    expect(kindOf(held('2', '4903.325', 'N'))).toBe('unit-of-another-kind')
    const here = makePoint({ loadPath: { gravityHere: { value: '9.80665', unit: 'm/s2' }, deadLoad: kilograms('0') } }, [
      makeCertificate({ ratedOutput: mvPerV('2'), gravity: 'standard' }),
    ])
    expect(exactDecimal(implied(held('2', '4903.325', 'N'), here).sensitivity)).toBe('2')
  })
})
