import { describe, expect, it } from 'vitest'
import { settingWords } from '../../../app/profile/setting-words.ts'

describe('what a setting is called', () => {
  it.each([
    ['filter.cutoff', 'Filter cut-off'],
    ['setpoint.2.value', 'Set-point 2'],
    ['scale.table.10.signal', 'Table pair 10, signal'],
    ['scale.table.3.reading', 'Table pair 3, reading'],
    ['maker.special', 'maker.special'],
  ])('%s is %s', (key, words) => {
    expect(settingWords(key)).toBe(words)
  })

  it('names the channel where there are several', () => {
    expect([settingWords('setpoint.1.value@2', 4), settingWords('setpoint.1.value@0', 1)]).toEqual([
      'Set-point 1, channel 2',
      'Set-point 1',
    ])
  })
})
