import { describe, expect, it } from 'vitest'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { findText, foundBy } from '../../../renderer/table/row-data.ts'

const job = practiceJob()
const matching = (typed: string) =>
  job.points
    .filter((point) => foundBy(findText({ point, indicator: job.indicators.find((i) => i.id === point.indicatorId) }), typed))
    .map((p) => p.tag)

describe('finding points', () => {
  it.each([
    ['tag', 'wt-10', ['WT-101', 'WT-102']],
    ['name', 'Silo nor', ['WT-201']],
    ['indicator', 'press indicator', ['PT-301']],
    ['serial of a sensor', '51210', ['WT-202']],
    ['words in any order', '40131 hopper', ['WT-102']],
  ])('by %s', (_what, typed, tags) => {
    expect(matching(typed)).toEqual(tags)
  })

  it('every word must be somewhere', () => {
    expect(matching('silo 40117')).toEqual([])
    expect(matching('')).toHaveLength(5)
  })
})
