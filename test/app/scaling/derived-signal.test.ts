import { describe, expect, it } from 'vitest'
import type { SettingsImage } from '../../../app/job/schema.ts'
import type { Profile } from '../../../app/profile/schema.ts'
import { derivedSignal } from '../../../app/scaling/derived-signal.ts'
import { makeModelProfile } from '../../builders/model-profile.ts'
import { makeProfile } from '../../builders/weighing-point.ts'

const held = (values: Record<string, string>): SettingsImage => ({
  at: '2026-03-02T08:00:00Z',
  values: Object.fromEntries(Object.entries(values).map(([key, value]) => [`${key}@1`, { words: [], value }])),
})
const derived = (profile: Profile, values: Record<string, string>, reading: string | null) =>
  derivedSignal(profile, 1, held(values), reading)

describe('a signal computed back from the reading', () => {
  const pairs = { 'scale.lower.signal': '0.1', 'scale.lower.reading': '0', 'scale.upper.signal': '2.1', 'scale.upper.reading': '500' }

  // by hand: 0.1 + 250 x 2 / 500
  it('lies on the line of two pairs', () => {
    expect(derived(makeProfile(), pairs, '250')).toBe('1.10000')
    expect(derived(makeProfile(), pairs, '-25')).toBe('0.00000')
    expect(derived(makeProfile(), pairs, '600')).toBe('2.50000')
  })

  // by hand: 250 = (signal - 0.1) x 250, and reading = slope x signal + intercept
  it('lies on the line of slope and intercept', () => {
    const profile = makeModelProfile({ model: 'slope-intercept' }, { 'scale.slope': {}, 'scale.intercept': {} })
    expect(derived(profile, { 'scale.slope': '250', 'scale.intercept': '-25' }, '250')).toBe('1.10000')
  })

  it('is none where the values are not read, give no line, or the reading is no number', () => {
    expect(derived(makeProfile(), { ...pairs, 'scale.upper.reading': '0' }, '250')).toBeNull()
    const { 'scale.upper.reading': _, ...incomplete } = pairs
    expect(derived(makeProfile(), incomplete, '250')).toBeNull()
    expect(derived(makeProfile(), pairs, null)).toBeNull()
    expect(derived(makeProfile(), pairs, 'NaN')).toBeNull()
    expect(derivedSignal(makeProfile(), 1, null, '250')).toBeNull()
  })
})
