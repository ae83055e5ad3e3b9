import { describe, expect, it } from 'vitest'
import { visitGoing } from '../../../app/job/visit-going.ts'

const visit = (startedAt: string) => ({ id: startedAt, startedAt, by: 'A. Tester', found: {}, left: {}, checks: [] })
const morning = visit('2026-03-12T07:00:00.000Z')
const before = visit('2026-03-11T20:00:00.000Z')

describe('a visit that goes on', () => {
  it.each([
    ['in the afternoon of the same day', '2026-03-12T16:00:00.000Z', morning],
    ['twelve hours after it began', '2026-03-12T19:00:00.000Z', morning],
    ['later than that', '2026-03-12T19:00:00.001Z', undefined],
    ['by a clock that was set back', '2026-03-12T06:59:00.000Z', undefined],
  ])('%s', (_, now, expected) => {
    expect(visitGoing([before, morning], now)).toBe(expected)
  })

  it('is the latest alone, and none where there is none', () => {
    expect(visitGoing([morning, before], '2026-03-12T07:30:00.000Z')).toBe(before)
    expect(visitGoing([], '2026-03-12T07:30:00.000Z')).toBeUndefined()
  })
})
