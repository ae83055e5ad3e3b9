import { describe, expect, it } from 'vitest'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { bySortValue, findText, foundBy, type SortValue } from '../../../renderer/table/row-data.ts'

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

describe('the order of values', () => {
  it('kinds stay apart, and what has no value comes below all', () => {
    const values: SortValue[] = [
      ['pressure', 1],
      ['mass', 2],
      ['', Number.NEGATIVE_INFINITY],
      ['mass', 1],
    ]
    expect(values.sort(bySortValue).map(([kind, value]) => `${kind} ${value}`)).toEqual([' -Infinity', 'mass 1', 'mass 2', 'pressure 1'])
  })
})
