import { describe, expect, it } from 'vitest'
import type { Point, SettingsImage } from '../../../../app/job/schema.ts'
import { type Profile, profile as profileSchema } from '../../../../app/profile/schema.ts'
import { encodeIntended } from '../../../../app/profile/settings.ts'
import { bundledProfiles } from '../../../../app/profiles/bundled.ts'
import { exactDecimal } from '../../../../app/quantity/exact.ts'
import { explainImpliedFailure, impliedByHeld } from '../../../../app/scaling/implied.ts'
import { type Measured, proposeScaling } from '../../../../app/scaling/propose-scaling.ts'
import { explainScalingFailure } from '../../../../app/scaling/scaling-failure.ts'
import { makeModelProfile } from '../../../builders/model-profile.ts'
import { kilograms, makeCertificate, makePoint, mvPerV } from '../../../builders/weighing-point.ts'

// 500 kg, 2 mV/V, 50 kg dead load: 0.2 mV/V at zero, 2.2 mV/V at 500 kg; by hand, as every number below
const point = makePoint({ loadPath: { deadLoad: kilograms('50') }, scaleInterval: '1' }, [makeCertificate({ ratedOutput: mvPerV('2') })])

const propose = (profile: Profile, at: Point = point, measured: Measured = {}) => {
  const result = proposeScaling(at, profile, measured)
  if (!result.ok) throw new Error(explainScalingFailure(result.failure))
  return result.value
}
const scaleOf = (profile: Profile, at: Point = point, measured: Measured = {}) =>
  Object.fromEntries(
    Object.entries(propose(profile, at, measured).intended).flatMap(([key, v]) =>
      key.startsWith('scale.') ? [[key.replace('scale.', '').replace('@1', ''), v]] : [],
    ),
  )
const bundled = (id: string): Profile => {
  const found = bundledProfiles.get(id)
  if (!found) throw new Error(`no bundled profile ${id}`)
  return found
}
const image = (values: Record<string, string>): SettingsImage => ({
  at: '2026-01-01T00:00:00Z',
  values: Object.fromEntries(Object.entries(values).map(([key, value]) => [key, { words: [], value }])),
})
/** What the proposed values imply once an indicator holds them: it has to be the certificate again. */
const impliedBack = (profile: Profile, at: Point = point, measured: Measured = {}) => {
  const result = impliedByHeld(at, profile, image(propose(profile, at, measured).intended))
  if (!result.ok) throw new Error(explainImpliedFailure(result.failure))
  return result.value.sensitivity.valueOf()
}
const takenBy = (profile: Profile, at: Point = point) => encodeIntended(profile, propose(profile, at).intended, image({})).ok

describe('a table of pairs', () => {
  const registers = (pairs: number, signal: object = {}) =>
    Object.fromEntries(
      Array.from({ length: pairs }, (_, i) => [
        [`scale.table.${i + 1}.signal`, { unit: 'mV/V', ...signal }],
        [`scale.table.${i + 1}.reading`, { unit: { register: 'reading.unit' } }],
      ]).flat(),
    )
  const table = makeModelProfile({ model: 'pair-table', pairs: 5 }, { ...registers(5), 'scale.table.count': { type: 'u16' } })

  it('is filled from zero to maximum load, with its count', () => {
    expect(scaleOf(table)).toEqual({
      'table.1.signal': '0.2',
      'table.1.reading': '0',
      'table.2.signal': '0.7',
      'table.2.reading': '125',
      'table.3.signal': '1.2',
      'table.3.reading': '250',
      'table.4.signal': '1.7',
      'table.4.reading': '375',
      'table.5.signal': '2.2',
      'table.5.reading': '500',
      'table.count': '5',
    })
    expect(takenBy(table)).toBe(true)
    expect(impliedBack(table)).toBeCloseTo(2, 6)
  })

  it('has readings on whole scale intervals', () => {
    const odd = makePoint({ maximumLoad: '499', scaleInterval: '1', loadPath: { deadLoad: kilograms('0') } })
    expect(scaleOf(table, odd)).toMatchObject({ 'table.2.reading': '125', 'table.3.reading': '250', 'table.5.reading': '499' })
  })

  // 120 of 500 kg are 0.48 mV/V: at two decimals exact; the span over the last segment (30 kg, 0.12 mV/V) costs 0.005/0.12 x 30 kg at most
  it('costs half a digit over the segment that is steepest', () => {
    const coarse = makeModelProfile({ model: 'pair-table', pairs: 5 }, registers(5, { type: 'i32', decimals: 2 }))
    const at = makePoint({ maximumLoad: '120', scaleInterval: '1' }, [makeCertificate({ ratedOutput: mvPerV('2') })])
    const { rounding } = propose(coarse, at).pairs
    expect(exactDecimal(rounding.atMaximum.units)).toBe('0')
    expect(exactDecimal(rounding.atMost.units)).toBe('1.25')
    // 122 kg are 0.488 mV/V, held as 0.49; the last segment is 30 kg (92 to 122) in 0.12 mV/V, so 0.002 mV/V are 0.5 kg
    const off = propose(coarse, makePoint({ maximumLoad: '122', scaleInterval: '1' }, [makeCertificate({ ratedOutput: mvPerV('2') })]))
    expect(exactDecimal(off.pairs.rounding.atMaximum.units)).toBe('-0.5')
  })
})

describe('slope and intercept', () => {
  const profile = (slope: object = {}) =>
    makeModelProfile(
      { model: 'slope-intercept' },
      { 'scale.slope': slope, 'scale.intercept': { unit: { register: 'reading.unit' }, ...slope } },
    )

  it('are kilograms in one mV/V and the reading at no signal', () => {
    expect(scaleOf(profile())).toEqual({ slope: '250', intercept: '-50' })
    expect(takenBy(profile())).toBe(true)
    expect(impliedBack(profile())).toBe(2)
  })

  // 500 kg at 2.0015 mV/V: 249.8126405 kg in one mV/V, held as 250: 500.375 kg shown; half a unit costs 0.5 x 2.0015 kg
  it('cost what their digits cut off', () => {
    const at = makePoint({ scaleInterval: '1' })
    const { pairs } = propose(profile({ type: 'i32', decimals: 0 }), at)
    expect(exactDecimal(pairs.rounding.atMaximum.units)).toBe('0.375')
    expect(exactDecimal(pairs.rounding.atMost.units)).toBe('1.00075')
    expect(exactDecimal(pairs.rounding.zeroShift.units)).toBe('0')
  })
})

describe('capacity and rated output', () => {
  const profile = (balance: { from: string; to: string } = { from: '-0.5', to: '0.5' }, decimals = 4) =>
    makeModelProfile(
      { model: 'capacity-rated-output' },
      {
        'scale.capacity': { type: 'u16', unit: { register: 'reading.unit' } },
        'scale.rated-output': { type: 'u16', decimals, unit: 'mV/V' },
        'scale.zero-balance': { type: 'i16', decimals: 4, unit: 'mV/V', limits: balance },
      },
    )

  it('are those of all sensors together, with the dead load in the zero balance', () => {
    expect(scaleOf(profile())).toEqual({ capacity: '500', 'rated-output': '2.0000', 'zero-balance': '0.2000' })
    expect(takenBy(profile())).toBe(true)
    expect(impliedBack(profile())).toBe(2)
  })

  it('count the share carried into the capacity', () => {
    const half = makePoint({ scaleInterval: '1', maximumLoad: '1000', loadPath: { deadLoad: kilograms('0'), sharePercent: '50' } })
    expect(scaleOf(profile(), half)).toMatchObject({ capacity: '1000', 'rated-output': '2.0015' })
  })

  // 2.0015 mV/V held as 2.00: 500.375 kg shown; half a digit 0.005/2 x 500 kg
  it('cost what their digits cut off', () => {
    const { rounding } = propose(profile(undefined, 2), makePoint({ scaleInterval: '1' })).pairs
    expect(exactDecimal(rounding.atMaximum.units)).toBe('0.375')
    expect(exactDecimal(rounding.atMost.units)).toBe('1.25')
  })

  it('are refused where the indicator does not take the zero', () => {
    const result = proposeScaling(point, profile({ from: '-0.1', to: '0.1' }))
    expect(!result.ok && result.failure.kind).toBe('not-accepted')
  })
})

describe('counts', () => {
  const profile = makeModelProfile(
    { model: 'counts', countsAtFullRange: 1_000_000 },
    {
      'scale.lower.counts': { type: 'i32' },
      'scale.lower.reading': { unit: { register: 'reading.unit' } },
      'scale.upper.counts': { type: 'i32' },
      'scale.upper.reading': { unit: { register: 'reading.unit' } },
    },
  )

  // 0.2 and 2.2 of 3.5 mV/V, of a million
  it('are the signal as a part of the input range that is chosen', () => {
    expect(scaleOf(profile)).toEqual({ 'lower.counts': '57143', 'lower.reading': '0', 'upper.counts': '628572', 'upper.reading': '500' })
    expect(propose(profile).intended['input.range@1']).toBe('3.5 mV/V')
    expect(takenBy(profile)).toBe(true)
    expect(impliedBack(profile)).toBeCloseTo(2, 5)
  })

  it('are shown to people as the signals that they stand for', () => {
    const { pairs } = propose(profile)
    expect([pairs.lower.signal, pairs.upper.signal, pairs.signalUnit]).toEqual(['0.200001', '2.200002', 'mV/V'])
    // half a count of 571 429, at 500 kg
    expect(pairs.rounding.atMost.units.valueOf()).toBeCloseTo((0.5 / 571_429) * 500, 9)
  })

  it('of ranges in mV need the excitation measured', () => {
    const millivolts = makeModelProfile(
      { model: 'counts', countsAtFullRange: 1_000_000 },
      {
        'scale.lower.counts': { type: 'i32' },
        'scale.lower.reading': {},
        'scale.upper.counts': { type: 'i32' },
        'scale.upper.reading': {},
      },
      { ratiometric: false, signalUnit: 'mV' },
    )
    const withRanges = {
      ...millivolts,
      registers: millivolts.registers.map((r) =>
        r.name === 'input.range'
          ? {
              ...r,
              options: [
                { raw: 0, means: '20 mV' },
                { raw: 1, means: '40 mV' },
              ],
            }
          : r,
      ),
    }
    const result = proposeScaling({ ...point, intended: { 'input.range@1': '40 mV' } }, withRanges)
    expect(!result.ok && result.failure.kind).toBe('excitation-not-measured')
    const excitation = { value: '10', unit: 'V' as const }
    const measured = { ...point, measured: { excitation } }
    // 2 mV and 22 mV of 40 mV
    expect(scaleOf(withRanges, measured, { excitation })).toMatchObject({ 'lower.counts': '50000', 'upper.counts': '550000' })
    expect(impliedBack(withRanges, measured, { excitation })).toBe(2)
  })
})

describe('capture of an applied load', () => {
  const profile = makeModelProfile(
    { model: 'applied-load-capture' },
    {
      'scale.lower.signal': { type: 'i32', decimals: 3, unit: 'mV/V', access: 'read' },
      'scale.lower.reading': { unit: { register: 'reading.unit' } },
      'scale.upper.signal': { type: 'i32', decimals: 3, unit: 'mV/V', access: 'read' },
      'scale.upper.reading': { unit: { register: 'reading.unit' } },
    },
  )

  it('says what to put on and what to expect, and writes no scaling value', () => {
    expect(scaleOf(profile)).toEqual({})
    expect(propose(profile).captures).toEqual([
      { command: 'capture-lower', apply: '0', unit: 'kg', expectSignal: '0.20000', signalUnit: 'mV/V' },
      { command: 'capture-upper', apply: '500', unit: 'kg', expectSignal: '2.20000', signalUnit: 'mV/V' },
    ])
    // 0.0005 of 2 mV/V, at 500 kg
    expect(exactDecimal(propose(profile).pairs.rounding.atMost.units)).toBe('0.125')
  })

  it('leaves signals behind that imply a sensitivity', () => {
    const held = image({
      'scale.lower.signal@1': '0.200',
      'scale.lower.reading@1': '0',
      'scale.upper.signal@1': '1.195',
      'scale.upper.reading@1': '250',
      'reading.unit@1': 'kg',
    })
    const result = impliedByHeld(point, profile, held)
    expect(result.ok && exactDecimal(result.value.sensitivity)).toBe('1.99')
  })
})

describe('entry at the front panel', () => {
  const profile = (panel?: unknown[]) => {
    const made = makeModelProfile({ model: 'front-panel-entry' }, {})
    return panel ? profileSchema.parse({ ...made, panel }) : made
  }
  const asks = (label: string, name: string, decimals: number, more: object = {}) => ({
    label,
    name,
    channel: 1,
    decimals,
    evidence: 'invented',
    ...more,
  })
  const menu = [
    asks('CAP', 'scale.capacity', 0, { unit: 'kg' }),
    asks('SENS', 'scale.rated-output', 3, { unit: 'mV/V' }),
    asks('FILT', 'filter.rank', 1, { unit: 's' }),
    asks('ZERO', 'scale.zero-balance', 3, { unit: 'mV/V' }),
  ]

  it('is a sheet in the digits and the order of the menu, and writes no scaling value', () => {
    const proposal = propose(profile(menu), makePoint({ scaleInterval: '1' }))
    expect(proposal.entries).toEqual({
      digitsKnown: true,
      list: [
        { key: 'scale.capacity@1', label: 'CAP', type: '500', unit: 'kg' },
        { key: 'scale.rated-output@1', label: 'SENS', type: '2.002', unit: 'mV/V' },
        { key: 'filter.rank@1', label: 'FILT', type: null, unit: 's' },
        { key: 'scale.zero-balance@1', label: 'ZERO', type: '0.000', unit: 'mV/V' },
      ],
    })
    // 500 x 2.0015/2.002 kg shown at 500 kg
    expect(proposal.pairs.rounding.atMaximum.units.valueOf()).toBeCloseTo((500 * 2.0015) / 2.002 - 500, 9)
    expect(Object.keys(proposal.intended).filter((k) => k.startsWith('scale.'))).toEqual([])
    expect(proposal.pairs.values).toEqual({})
  })

  it('refuses what the menu does not take', () => {
    const narrow = menu.map((e) => (e.label === 'CAP' ? { ...e, limits: { from: '1', to: '400' } } : e))
    const result = proposeScaling(makePoint({ scaleInterval: '1' }), profile(narrow), {})
    expect(!result.ok && result.failure).toMatchObject({ kind: 'not-accepted', register: 'scale.capacity@1', value: '500' })
    expect(!result.ok && explainScalingFailure(result.failure)).toBe(
      'The indicator does not take 500 for the setting Capacity: 500 is outside 1 to 400, which is what the indicator accepts.',
    )
  })

  it('gives both pairs where the menu is not described, and says that its digits are not known', () => {
    const { entries } = propose(profile())
    expect(entries?.digitsKnown).toBe(false)
    expect(entries?.list.map((e) => e.type)).toEqual(['0.20000', '0', '2.20000', '500'])
    expect(entries?.list.map((e) => e.unit)).toEqual(['mV/V', 'kg', 'mV/V', 'kg'])
  })

  // 0.2 mV/V at zero, 2.2 mV/V at 500 kg, as above; decimals, unit and interval are menu items too
  it('of the bundled indicator with the reading alone on the bus: every item of its menu that the job decides', () => {
    const proposal = propose(bundled('reading-alone-on-the-bus'))
    expect(proposal.entries?.list.map((e) => [e.label, e.type, e.unit])).toEqual([
      ['1.1', 'kg', undefined],
      ['1.2', '0', undefined],
      ['1.3', '1', undefined],
      ['2.1', '0.200', 'mV/V'],
      ['2.2', '0', 'kg'],
      ['2.3', '2.200', 'mV/V'],
      ['2.4', '500', 'kg'],
      ['3.1', null, 's'],
    ])
    expect(proposal.entries?.digitsKnown).toBe(true)
    expect(proposal.intended).toEqual({})
  })

  // 50 kN at 2.0015 mV/V, no dead load
  it('of the bundled indicator without a bus: capacity in kN with one decimal', () => {
    const kilonewtons = { value: '50', unit: 'kN' }
    const press = makePoint({ unit: 'kN', maximumLoad: '40', loadPath: { deadLoad: { value: '0', unit: 'kN' } } }, [
      makeCertificate({ capacity: kilonewtons as never }),
    ])
    expect(propose(bundled('front-panel-only'), press).entries).toMatchObject({
      digitsKnown: true,
      list: [{ type: '50.0' }, { type: '2.0015' }, { type: '0.0000' }, { label: 'FILT', type: null }],
    })
  })

  it('leaves nothing behind that can be read', () => {
    const result = impliedByHeld(point, profile(), image({}))
    expect(!result.ok && result.failure.kind).toBe('model-not-computed')
  })
})
