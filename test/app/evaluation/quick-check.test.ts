import { describe, expect, it } from 'vitest'
import { evaluateQuickCheck, superseded } from '../../../app/evaluation/quick-check.ts'
import type { CheckStep, QuickCheck, SettingsImage } from '../../../app/job/schema.ts'
import { exactDecimal } from '../../../app/quantity/exact.ts'
import { makePoint } from '../../builders/weighing-point.ts'

const step = (load: string, reading: string): CheckStep => ({ load, reading, origin: 'typed', at: '2026-01-01T00:00:00Z', samples: [] })
const check = (pairs: [string, string][], unit: QuickCheck['unit'] = 'kg') => ({
  unit,
  steps: pairs.map(([load, reading]) => step(load, reading)),
})
const tolerated = (value: string, change: Record<string, unknown> = {}) =>
  makePoint({ tolerance: { value, why: 'site procedure' }, ...change })
const sound: [string, string][] = [
  ['0', '0.0'],
  ['250', '250.1'],
  ['500', '499.8'],
  ['0', '0.1'],
]

describe('errors of a quick check', () => {
  // by hand; errors as indicated, d = 0.1 kg, maximum load 500 kg
  it('are told per step in units, scale intervals, percent of load and of maximum load, exactly', () => {
    const { steps, zeroReturn, worst } = evaluateQuickCheck(check(sound), tolerated('0.3'))
    expect(steps.map((s) => exactDecimal(s.error))).toEqual(['0', '0.1', '-0.2', '0.1'])
    expect(steps.map((s) => exactDecimal(s.intervals))).toEqual(['0', '1', '-2', '1'])
    expect(steps.map((s) => s.percentOfLoad && exactDecimal(s.percentOfLoad))).toEqual([undefined, '0.04', '-0.04', undefined])
    expect(steps.map((s) => exactDecimal(s.percentOfMaximum))).toEqual(['0', '0.02', '-0.04', '0.02'])
    expect(zeroReturn && exactDecimal(zeroReturn)).toBe('0.1')
    expect(worst && exactDecimal(worst.load)).toBe('500')
  })

  // NIST SP 811 (2008) B.8: lb = 0.45359237 kg
  it('are converted exactly where the check was made in another unit of the same kind', () => {
    const { steps } = evaluateQuickCheck(
      check(
        [
          ['0', '0'],
          ['1000', '1001'],
          ['0', '0'],
        ],
        'lb',
      ),
      tolerated('1'),
    )
    expect(steps.map((s) => exactDecimal(s.error))).toEqual(['0', '0.45359237', '0'])
  })
})

describe('the verdict', () => {
  const verdictOf = (pairs: [string, string][], point = tolerated('0.3')) => evaluateQuickCheck(check(pairs), point).verdict

  it('is within where every step is, and the limit itself is within', () => {
    expect(verdictOf(sound)).toBe('within')
    expect(
      verdictOf([
        ['0', '0.0'],
        ['500', '500.3'],
        ['0', '0.0'],
      ]),
    ).toBe('within')
  })

  // in binary floating point 500.3 - 500 is 0.30000000000001137, beyond 0.3
  it('is not led astray by binary floating point at the limit', () => {
    expect(500.3 - 500).toBeGreaterThan(0.3)
    expect(
      verdictOf([
        ['0', '0.0'],
        ['500', '499.7'],
        ['0', '0.0'],
      ]),
    ).toBe('within')
    expect(
      verdictOf([
        ['0', '0.0'],
        ['500', '500.30000000000000001'],
        ['0', '0.0'],
      ]),
    ).toBe('outside')
  })

  it('is outside for one error beyond, at zero too, even if a step is missing', () => {
    expect(
      verdictOf([
        ['0', '0.0'],
        ['500', '499.6'],
        ['0', '0.0'],
      ]),
    ).toBe('outside')
    expect(
      verdictOf([
        ['0', '0.0'],
        ['500', '500.0'],
        ['0', '0.4'],
      ]),
    ).toBe('outside')
    expect(verdictOf([['500', '500.4']])).toBe('outside')
  })

  it.each([
    ['without a tolerance', sound, makePoint(), /No tolerance/],
    ['with a tolerance below nought', sound, tolerated('-0.3'), /below nought/],
    [
      'without the first zero',
      [
        ['500', '500.0'],
        ['0', '0.0'],
      ],
      tolerated('0.3'),
      /first step, unloaded, is missing/,
    ],
    [
      'without the last zero',
      [
        ['0', '0.0'],
        ['500', '500.0'],
      ],
      tolerated('0.3'),
      /last step, unloaded again, is missing/,
    ],
    [
      'without a load',
      [
        ['0', '0.0'],
        ['0', '0.0'],
      ],
      tolerated('0.3'),
      /No known load was applied/,
    ],
    ['without any step', [], tolerated('0.3'), /first step, unloaded, is missing/],
    [
      'with a scale interval coarser than the tolerance',
      [
        ['0', '0'],
        ['500', '500'],
        ['0', '0'],
      ],
      tolerated('0.3', { scaleInterval: '0.5' }),
      /coarser than the tolerance/,
    ],
    ['with a point that has no scale interval', sound, tolerated('0.3', { scaleInterval: '0' }), /above nought/],
  ] as [string, [string, string][], ReturnType<typeof makePoint>, RegExp][])('cannot be given %s', (_, pairs, point, why) => {
    const { verdict, reasons } = evaluateQuickCheck(check(pairs), point)
    expect(verdict).toBe('cannot-be-judged')
    expect(reasons.join(' ')).toMatch(why)
  })

  it('is given with numbers as print has them, in the decimal sign that is asked for', () => {
    const pairs: [string, string][] = [
      ['0', '0.0'],
      ['500', '498.8'],
      ['0', '0.0'],
    ]
    const { verdict, reasons, remarks } = evaluateQuickCheck(
      { ...check(pairs), takenBack: check([['500', '-0.2']]).steps },
      tolerated('0.3'),
      ',',
    )
    expect(verdict).toBe('outside')
    expect(reasons).toEqual(['At 500 kg the error is \u22121,2 kg, beyond the tolerance of 0,3 kg.'])
    expect(remarks).toContain('Taken back and done again: \u22120,2 at 500 kg.')
  })

  it('cannot be given across dimensions', () => {
    expect(evaluateQuickCheck(check(sound, 'kN'), tolerated('0.3')).verdict).toBe('cannot-be-judged')
  })

  it('is outside under a coarse scale interval only beyond half an interval more', () => {
    const coarse = tolerated('0.3', { scaleInterval: '0.5' })
    expect(
      verdictOf(
        [
          ['0', '0'],
          ['500', '500.5'],
          ['0', '0'],
        ],
        coarse,
      ),
    ).toBe('cannot-be-judged')
    expect(
      verdictOf(
        [
          ['0', '0'],
          ['500', '501'],
          ['0', '0'],
        ],
        coarse,
      ),
    ).toBe('outside')
  })

  it('is given by the readings that stand; one that was taken back is told beside it', () => {
    const again = { ...check(sound), takenBack: [step('500', '480.2')] }
    expect(evaluateQuickCheck(again, tolerated('0.3'))).toMatchObject({
      verdict: 'within',
      remarks: ['Taken back and done again: 480.2 at 500 kg.'],
    })
  })

  it('says what its loads did not show', () => {
    expect(
      evaluateQuickCheck(
        check([
          ['0', '0'],
          ['100', '100'],
          ['0', '0'],
        ]),
        tolerated('0.3'),
      ).remarks.join(),
    ).toMatch(/below half of maximum load/)
    expect(
      evaluateQuickCheck(
        check([
          ['0', '0'],
          ['501', '501'],
          ['0', '0'],
        ]),
        tolerated('0.3'),
      ).remarks.join(),
    ).toMatch(/beyond maximum load/)
    expect(evaluateQuickCheck(check(sound), tolerated('0.3')).remarks).toEqual([])
  })
})

describe('a pressure', () => {
  const transducer = (kind: 'gauge' | 'absolute' | 'differential' | undefined, change: Record<string, unknown> = {}) =>
    tolerated('0.02', {
      unit: 'bar',
      maximumLoad: '4',
      scaleInterval: '0.01',
      loadPath: kind === undefined ? {} : { pressure: kind },
      ...change,
    })
  const at = (pairs: [string, string][]) => check(pairs, 'bar')
  const aroundAir: [string, string][] = [
    ['1.01', '1.02'],
    ['3', '3.01'],
    ['1.01', '1.01'],
  ]

  // ISO 2533:1975: standard air pressure at sea level is 1013.25 hPa, so that a vented absolute transducer reads about 1.01 bar.
  it('against vacuum is judged from the air pressure that it began at, not from a nought that it never has', () => {
    const { verdict, steps, zeroReturn } = evaluateQuickCheck(at(aroundAir), transducer('absolute'))
    expect(steps.map((s) => exactDecimal(s.error))).toEqual(['0.01', '0.01', '0'])
    expect(zeroReturn && exactDecimal(zeroReturn)).toBe('-0.01')
    expect(verdict).toBe('within')
    expect(evaluateQuickCheck(at(aroundAir), transducer('gauge')).reasons.join(' ')).toMatch(/first step, vented, is missing/)
  })

  it('against vacuum is outside where its error is beyond the tolerance, below the air pressure too', () => {
    const vacuum: [string, string][] = [
      ['1.01', '1.01'],
      ['0.10', '0.13'],
      ['1.01', '1.01'],
    ]
    expect(evaluateQuickCheck(at(vacuum), transducer('absolute'))).toMatchObject({ verdict: 'outside' })
  })

  it.each([
    ['the pressure it began at is missing at the end', aroundAir.slice(0, 2), /last step, open to the air again, is missing/],
    ['nothing but air pressure was applied', [aroundAir[0], aroundAir[2]], /No known pressure was applied/],
  ] as [string, [string, string][], RegExp][])('against vacuum cannot be judged where %s', (_, pairs, why) => {
    const { verdict, reasons } = evaluateQuickCheck(at(pairs), transducer('absolute'))
    expect(verdict).toBe('cannot-be-judged')
    expect(reasons.join(' ')).toMatch(why)
  })

  it('is told in its own words', () => {
    const low: [string, string][] = [
      ['0', '0'],
      ['1', '1'],
      ['0', '0'],
    ]
    expect(evaluateQuickCheck(at(low), transducer('gauge')).remarks).toEqual([
      'The largest pressure was below half of the upper range value; what happens above it was not seen.',
    ])
    expect(evaluateQuickCheck(at(low.slice(0, 2)), transducer('differential')).reasons).toEqual([
      'The last step, equalised again, is missing.',
    ])
  })

  it('of which nobody said what it counts from is judged as gauge, and that is said', () => {
    const gauge: [string, string][] = [
      ['0', '0'],
      ['3', '3'],
      ['0', '0'],
    ]
    expect(evaluateQuickCheck(at(gauge), transducer(undefined))).toMatchObject({
      verdict: 'within',
      remarks: [expect.stringContaining('judged as gauge')],
    })
    expect(evaluateQuickCheck(at(gauge), transducer('gauge')).remarks).toEqual([])
  })
})

describe('a check is superseded', () => {
  const image = (values: Record<string, number>): SettingsImage => ({
    at: '2026-01-01T00:00:00Z',
    values: Object.fromEntries(Object.entries(values).map(([key, word]) => [key, { words: [word], value: `${word}` }])),
  })
  const then = image({ 'scale.upper.signal@1': 1, 'scale.upper.signal@2': 5, 'filter.time@1': 3 })

  it('once the scaling values of its channel differ, in the raw words', () => {
    expect(superseded(then, image({ 'scale.upper.signal@1': 2, 'scale.upper.signal@2': 5, 'filter.time@1': 3 }), 1)).toBe('yes')
    expect(superseded(then, then, 1)).toBe('no')
  })

  it('not by another channel, nor by the filter', () => {
    expect(superseded(then, image({ 'scale.upper.signal@1': 1, 'scale.upper.signal@2': 6, 'filter.time@1': 9 }), 1)).toBe('no')
    expect(superseded(then, image({ 'scale.upper.signal@1': 1, 'scale.upper.signal@2': 6, 'filter.time@1': 9 }), 2)).toBe('yes')
  })

  it('or nobody knows, where one of the two was not read', () => {
    expect(superseded(undefined, then, 1)).toBe('unknown')
    expect(superseded(then, null, 1)).toBe('unknown')
    expect(superseded(image({ 'filter.time@1': 3 }), image({ 'filter.time@1': 3 }), 1)).toBe('unknown')
  })
})
