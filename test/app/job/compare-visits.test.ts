import { describe, expect, it } from 'vitest'
import { compareVisits } from '../../../app/job/compare-visits.ts'
import type { Job, QuickCheck, SettingsImage, Visit } from '../../../app/job/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { kilograms, makeCertificate, makePoint, mvPerV } from '../../builders/weighing-point.ts'

/** Single floats of IEEE 754-2019, 3.4: 0 is 0000 0000, 2.0 is 4000 0000, 2.01 is 4000 a3d7, 500 is 43fa 0000. */
const words: Record<string, number[]> = { '0': [0, 0], '2.0': [0x4000, 0], '2.01': [0x4000, 0xa3d7], '500': [0x43fa, 0] }
const image = (at: string, upper: string): SettingsImage => ({
  at,
  values: Object.fromEntries(
    [
      ['scale.lower.signal@1', '0'],
      ['scale.lower.reading@1', '0'],
      ['scale.upper.signal@1', upper],
      ['scale.upper.reading@1', '500'],
    ].map(([key = '', value = '']) => [key, { words: words[value] ?? [], value }]),
  ),
})

const check = (
  when: QuickCheck['when'],
  steps: readonly (readonly [load: string, reading: string])[],
  change: Partial<QuickCheck> = {},
): QuickCheck => ({
  id: `check-${when}`,
  pointId: 'p1',
  when,
  startedAt: '2025-11-20T10:00:00Z',
  finishedAt: '2025-11-20T11:00:00Z',
  by: 'A. Tester',
  unit: 'kg',
  steps: steps.map(([load, reading]) => ({ load, reading, origin: 'typed' as const, at: '2025-11-20T10:30:00Z', samples: [] })),
  ...change,
})

const visit = (id: string, startedAt: string, change: Partial<Visit> = {}): Visit => ({
  id,
  startedAt,
  by: 'A. Tester',
  found: {},
  left: {},
  checks: [],
  ...change,
})
const lastYear = visit('v1', '2025-11-20T09:00:00Z', {
  found: { 'ind-1': image('2025-11-20T09:10:00Z', '2.01') },
  left: { 'ind-1': image('2025-11-20T10:50:00Z', '2.0') },
  checks: [
    check('as-found', [
      ['0', '9'],
      ['400', '444'],
      ['0', '9'],
    ]),
    check('as-left', [
      ['0', '0.0'],
      ['400', '400.0'],
      ['0', '0.0'],
    ]),
  ],
})
const thisYear = (upper: string, steps: Parameters<typeof check>[1]) =>
  visit('v2', '2026-11-25T09:00:00Z', { found: { 'ind-1': image('2026-11-25T09:10:00Z', upper) }, checks: [check('as-found', steps)] })

const point = makePoint({ indicatorId: 'ind-1' }, [makeCertificate({ capacity: kilograms('500'), ratedOutput: mvPerV('2.0000') })])
const jobWith = (...visits: Visit[]): Job => ({
  ...practiceJob(),
  indicators: practiceJob().indicators.slice(0, 1),
  points: [point],
  visits,
})
function compared(job: Job, wanted = {}) {
  const result = compareVisits(job, bundledProfiles, wanted)
  if (!result.ok) throw new Error(result.failure)
  return result.value
}

describe('comparison of visits', () => {
  it('finds a setting that somebody moved, and the change of sensitivity that it implies', () => {
    const found = compared(
      jobWith(
        lastYear,
        thisYear('2.01', [
          ['0', '0.0'],
          ['400', '400.0'],
          ['0', '0.0'],
        ]),
      ),
    )
    expect(found.indicators).toMatchObject([
      {
        indicatorId: 'ind-1',
        since: { visitId: 'v1' },
        compared: 4,
        moved: [{ key: 'scale.upper.signal@1', held: '2.0', intended: '2.01' }],
      },
    ])
    // 2.01 / 2.0 is 1.005: half a percent.
    expect(found.points[0]?.implied).toMatchObject({ before: '2.0000', now: '2.0100', changePercent: '0.500' })
  })

  it('takes the drift of an absolute transducer from the air pressures that the checks began at', () => {
    const absolute = makePoint({ unit: 'bar', maximumLoad: '4', scaleInterval: '0.001', loadPath: { pressure: 'absolute' } })
    const checked = (when: 'as-left' | 'as-found', ...steps: [string, string][]) => [check(when, steps, { unit: 'bar' })]
    const then = visit('v1', '2025-11-20T09:00:00Z', {
      checks: checked('as-left', ['1.000', '1.000'], ['3.000', '3.000'], ['1.000', '1.000']),
    })
    const now = visit('v2', '2026-11-25T09:00:00Z', {
      checks: checked('as-found', ['1.020', '1.030'], ['3.020', '3.040'], ['1.020', '1.030']),
    })
    // By hand. Zero: +0.010 bar at either air pressure. Span: 3.040 - 1.030 = 2.010 for 2.000 bar, 0.5 %; rounding 2 x 0.001 / 2 = 0.1 %.
    expect(compared({ ...jobWith(then, now), points: [absolute] }).points[0]).toMatchObject({
      zero: { before: '0.000', now: '0.010', drift: '0.010', intervals: '10.0', resolved: true },
      span: { driftPercent: '0.5', roundingPercent: '0.10', resolved: true },
    })
  })

  it('gives zero and span drift of the checks, as left then against as found now', () => {
    const found = compared(
      jobWith(
        lastYear,
        thisYear('2.0', [
          ['0', '0.4'],
          ['400', '401.2'],
          ['0', '0.4'],
        ]),
      ),
    )
    expect(found.indicators[0]).toMatchObject({ moved: [] })
    // Zero: 0.4 kg, four intervals of 0.1 kg. Span: 401.2 - 0.4 = 400.8 for 400 kg, 0.2 %; rounding 2 x 0.1 / 400 = 0.05 %.
    expect(found.points[0]).toMatchObject({
      zero: { since: { visitId: 'v1' }, before: '0.0', now: '0.4', drift: '0.4', intervals: '4.0', resolved: true },
      span: { loadBefore: '400', loadNow: '400', driftPercent: '0.20', roundingPercent: '0.050', resolved: true },
    })
  })

  it('does not make drift of what rounding explains, and says when loads differ', () => {
    const found = compared(
      jobWith(
        lastYear,
        thisYear('2.0', [
          ['0', '0.1'],
          ['200', '200.0'],
          ['0', '0.1'],
        ]),
      ),
    )
    // Span: 199.9 for 200 kg, 0.05 % less; rounding 0.1/400 + 0.1/200 = 0.075 %.
    expect(found.points[0]).toMatchObject({
      zero: { resolved: false },
      span: { driftPercent: '-0.050', roundingPercent: '0.075', resolved: false },
    })
    expect(found.points[0]?.remarks.join()).toContain('largest loads were 400 and 200 kg')
  })

  it('says when the scaling was not the same in both checks, or when the checks are not as left and as found', () => {
    const held = (upper: string) => ({ held: image('2025-11-20T10:00:00Z', upper) })
    const steps = [
      ['0', '0'],
      ['400', '400'],
      ['0', '0'],
    ] as const
    const before = { ...lastYear, checks: [check('as-found', steps, held('2.0'))] }
    const now = { ...thisYear('2.0', steps), checks: [check('as-found', steps, held('2.01'))] }
    const remarks = compared(jobWith(before, now)).points[0]?.remarks.join()
    expect(remarks).toContain('scaling held was not the same')
    expect(remarks).toContain('earlier check was made as found')
  })

  it('looks back past visits that say nothing, unless one is named', () => {
    const between = visit('v15', '2026-05-01T09:00:00Z')
    const job = jobWith(lastYear, between, thisYear('2.0', []))
    expect(compared(job).indicators[0]).toMatchObject({ since: { visitId: 'v1' } })
    expect(compared(job, { earlier: 'v15' }).indicators[0]).toMatchObject({
      since: null,
      why: expect.stringContaining('not read in an earlier'),
    })
    expect(compared(job, { later: 'v15' }).indicators[0]).toMatchObject({ why: expect.stringContaining('not read in the later') })
    expect(compared(job).points[0]).toMatchObject({ zero: null, span: null, remarks: [expect.stringContaining('No quick check')] })
  })

  it('refuses a first visit, an unknown one, one that is not earlier, and a job without visits', () => {
    const why = (job: Job, wanted = {}) => {
      const result = compareVisits(job, bundledProfiles, wanted)
      return result.ok ? '' : result.failure
    }
    expect(why(jobWith(lastYear))).toContain('first visit')
    expect(why(jobWith())).toContain('no visit yet')
    expect(why(jobWith(lastYear), { later: 'nobody' })).toContain('no visit nobody')
    expect(why(jobWith(lastYear, thisYear('2.0', [])), { later: 'v1', earlier: 'v2' })).toContain('no visit v2 before')
  })
})
