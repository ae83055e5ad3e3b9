import { describe, expect, it } from 'vitest'
import { practiceJobOf } from '../../../main/practice/practice-bins.ts'
import { type Choice, rangeTo, scopeOf, scopeShort, scopeWords, toggled } from '../../../renderer/table/choice.ts'

const shown = ['a', 'b', 'c', 'd', 'e']
const none: Choice = { ids: [], from: null, before: [] }

describe('choosing points', () => {
  it('a range goes from the last one chosen, in the order that is shown, either way', () => {
    expect(rangeTo(toggled(none, 'b'), 'd', shown).ids).toEqual(['b', 'c', 'd'])
    expect(rangeTo(toggled(none, 'd'), 'b', shown).ids).toEqual(['d', 'b', 'c'])
    expect(rangeTo(toggled(none, 'a'), 'c', ['c', 'e', 'a']).ids).toEqual(['a', 'c', 'e'])
  })

  it('a range keeps its beginning, so that it can be drawn again from there', () => {
    const once = rangeTo(toggled(none, 'c'), 'd', shown)
    expect(once.from).toBe('c')
    expect(rangeTo(once, 'a', shown)).toMatchObject({ ids: ['c', 'a', 'b'], from: 'c' })
  })

  it('a range shrinks when it is drawn back, and leaves what was chosen before it', () => {
    const wide = rangeTo(toggled(toggled(none, 'e'), 'a'), 'd', shown)
    expect(wide.ids).toEqual(['e', 'a', 'b', 'c', 'd'])
    expect(rangeTo(wide, 'b', shown).ids).toEqual(['e', 'a', 'b'])
    expect(rangeTo(rangeTo(wide, 'a', shown), 'c', shown).ids).toEqual(['e', 'a', 'b', 'c'])
  })

  it('where the beginning is not shown any more, the one alone is chosen', () => {
    expect(rangeTo(toggled(none, 'x'), 'c', shown).ids).toEqual(['x', 'c'])
  })

  it('the same one again is no longer chosen', () => {
    expect(toggled(toggled(none, 'a'), 'a').ids).toEqual([])
  })
})

describe('how far an action goes is said', () => {
  const job = practiceJobOf(30)
  const ids = job.points.map((p) => p.id)
  const five = practiceJobOf(5)
  it.each([
    [scopeOf([], ids, ids.length), job, 'all 30', 'all 30'],
    [scopeOf([], ids.slice(0, 5), 5), five, 'all 5', 'all 5'],
    [scopeOf([], ids.slice(0, 2), ids.length), job, 'these 2', '2'],
    [scopeOf(ids.slice(0, 3), ids, ids.length), job, 'these 3', '3'],
    [scopeOf(['wt-102'], ids, ids.length), job, 'WT-102', 'it'],
    [scopeOf([], ['wt-101'], 1), { points: job.points.slice(0, 1) }, 'WT-101', 'it'],
    [scopeOf([], [], ids.length), job, 'no point', 'it'],
  ])('%o', (scope, job, words, short) => {
    expect(scopeWords(scope, job)).toBe(words)
    expect(scopeShort(scope)).toBe(short)
  })
})
