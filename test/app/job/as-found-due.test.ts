import { describe, expect, it } from 'vitest'
import { asFoundDue } from '../../../app/job/as-found-due.ts'
import type { QuickCheck, Visit } from '../../../app/job/schema.ts'
import { makePoint } from '../../builders/weighing-point.ts'

const point = makePoint({ id: 'p1', indicatorId: 'i1' })
const image = (word: number) => ({
  at: '2026-03-12T07:00:00.000Z',
  values: { 'scale.upper.signal@1': { words: [word], value: `${word}` } },
})
const check = (change: Partial<QuickCheck> = {}): QuickCheck => ({
  id: 'c1',
  pointId: 'p1',
  when: 'as-found',
  startedAt: '2026-03-12T07:05:00.000Z',
  by: 'A. Tester',
  unit: 'kg',
  steps: [{ load: '0', reading: '0.0', origin: 'typed', at: '2026-03-12T07:06:00.000Z', samples: [] }],
  ...change,
})
const visit = (checks: QuickCheck[] = [], left = 1): Visit => ({
  id: 'v1',
  startedAt: '2026-03-12T07:00:00.000Z',
  by: 'A. Tester',
  found: { i1: image(1) },
  left: { i1: image(left) },
  checks,
})

describe('a check as found that a write would leave undone', () => {
  it.each([
    ['is due before anything was written', visit(), [point]],
    [
      'is due where one was only begun, or was as left, or of another point',
      visit([check({ steps: [] }), check({ when: 'as-left' }), check({ pointId: 'p2' })]),
      [point],
    ],
    ['is not due once it was made', visit([check()]), []],
    ['is too late once something was written', visit([], 2), []],
    ['is nobody’s without a visit', undefined, []],
  ])('%s', (_, of, due) => {
    expect(asFoundDue(of, [point])).toEqual(due)
  })
})
