import { expect, it } from 'vitest'
import { asJudged, changedSinceJudged, judgedBy } from '../../../app/evaluation/as-judged.ts'
import { evaluateQuickCheck } from '../../../app/evaluation/quick-check.ts'
import type { Point, QuickCheck } from '../../../app/job/schema.ts'
import { makePoint } from '../../builders/weighing-point.ts'

const bar = (change: Record<string, unknown> = {}) =>
  makePoint({
    unit: 'bar',
    maximumLoad: '4',
    scaleInterval: '0.01',
    loadPath: { pressure: 'gauge' },
    tolerance: { value: '0.02', why: 'site procedure' },
    ...change,
  })
const step = (load: string, reading: string) => ({ load, reading, origin: 'typed' as const, at: '2026-01-01T00:00:00Z', samples: [] })
const check: Pick<QuickCheck, 'steps' | 'unit' | 'judgedBy'> = {
  unit: 'bar',
  steps: [step('0', '0.01'), step('3', '3.01'), step('0', '0.00')],
  judgedBy: judgedBy(bar()),
}
const verdictNow = (now: Point, judged = check) => evaluateQuickCheck(judged, asJudged(judged, now)).verdict

it('a verdict stands whatever becomes of the point: tolerance, interval, upper range value, what the pressure counts from', () => {
  expect(verdictNow(bar())).toBe('within')
  for (const change of [
    { tolerance: { value: '0.001', why: '' } },
    { tolerance: undefined },
    { scaleInterval: '0.1' },
    { maximumLoad: '0' },
    { loadPath: { pressure: 'absolute' } },
    { loadPath: {} },
    { unit: 'kPa' },
  ])
    expect(verdictNow(bar(change)), JSON.stringify(change)).toBe('within')
  const absolute = {
    ...check,
    judgedBy: judgedBy(bar({ loadPath: { pressure: 'absolute' } })),
    steps: [step('1', '1'), step('3', '3'), step('1', '1')],
  }
  expect(verdictNow(bar(), absolute)).toBe('within')
})

it('a check that does not say what it was judged by goes by the point as it is', () => {
  const { judgedBy: _, ...old } = check
  expect(verdictNow(bar({ tolerance: { value: '0.001', why: '' } }), old)).not.toBe('within')
  expect(changedSinceJudged(old, bar({ tolerance: undefined }))).toEqual([])
})

it('what is another since is said', () => {
  expect(changedSinceJudged(check, bar())).toEqual([])
  expect(changedSinceJudged(check, bar({ tolerance: { value: '0.001', why: '' }, loadPath: { pressure: 'absolute' } }))).toEqual([
    'The tolerance was 0.02 bar when it was judged, and is 0.001 bar now.',
    'What the pressure counts from was gauge when it was judged, and is absolute now.',
  ])
  expect(changedSinceJudged(check, bar({ tolerance: undefined, maximumLoad: '6', scaleInterval: '0.02' }))).toEqual([
    'The tolerance was 0.02 bar when it was judged, and is none now.',
    'The scale interval was 0.01 bar when it was judged, and is 0.02 bar now.',
    'The upper range value was 4 bar when it was judged, and is 6 bar now.',
  ])
})
