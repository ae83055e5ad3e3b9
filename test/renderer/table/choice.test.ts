import { describe, expect, it } from 'vitest'
import { practiceJob } from '../../../main/practice/practice-job.ts'
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
  it.each([
    [scopeOf([], shown, 5), 'all five'],
    [scopeOf([], ['a', 'b'], 5), 'these two'],
    [scopeOf(['a', 'b', 'c'], shown, 5), 'these three'],
    [scopeOf(['a'], shown, 5), 'this point'],
    [scopeOf([], ['a'], 1), 'the only point'],
    [scopeOf([], Array.from({ length: 30 }, String), 30), 'all 30'],
  ])('%o: %s', (scope, words) => {
    expect(scopeWords(scope)).toBe(words)
  })

  const job = practiceJob()
  const ids = job.points.map((p) => p.id)
  it.each([
    [scopeOf([], ids, ids.length), 'all 5'],
    [scopeOf([], ids.slice(0, 2), ids.length), '2 shown'],
    [scopeOf(ids.slice(0, 3), ids, ids.length), '3 chosen'],
    [scopeOf(['wt-102'], ids, ids.length), 'WT-102'],
    [scopeOf([], ['pt-301'], ids.length), 'PT-301'],
  ])('in a button, %o: %s', (scope, words) => {
    expect(scopeShort(scope, job)).toBe(words)
  })
})
