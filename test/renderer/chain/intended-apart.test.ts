import { describe, expect, it } from 'vitest'
import type { Job, Point } from '../../../app/job/schema.ts'
import { intendedApart, offersOf } from '../../../app/scaling/intended-offer.ts'
import { measuredAt, proposeScaling } from '../../../app/scaling/propose-scaling.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { intendedApartWords, pointsWrittenApart } from '../../../renderer/chain/intended-apart.ts'
import { holding } from '../../builders/point-view.ts'
import { makeDigitsProfile, makePoint, mvPerV } from '../../builders/weighing-point.ts'

// Three digits of the signal only, so that other pairs on the same line round better and are offered beside the first.
const profile = makeDigitsProfile(3, true)
const job: Job = {
  ...practiceJob(),
  profiles: [profile],
  indicators: [{ id: 'i1', name: 'Unit', busId: 'b1', unit: 1, profileId: profile.id }],
}
const zeroAt = (value: string): Point => makePoint({ maximumLoad: '120', indicatorId: 'i1', measured: { zeroSignal: mvPerV(value) } })

function offersFor(point: Point) {
  const proposal = proposeScaling(point, profile, measuredAt(point))
  if (!proposal.ok) throw new Error('a scaling is expected')
  return offersOf(proposal.value)
}

const before = zeroAt('0.210')
const offers = offersFor(before)
const intending = (point: Point, intended: Record<string, string>): Point => ({ ...point, intended })
/** Everything that is intended is still to be written, but for these. */
const written = (point: Point, held: readonly string[] = []): string[] => {
  const differs = Object.entries(point.intended).flatMap(([key, value]) =>
    held.includes(key) ? [] : [{ key, held: null, intended: value }],
  )
  return pointsWrittenApart({ ...job, points: [point] }, [{ id: 'i1', state: { ...holding({}), differs } }]).map((p) => p.tag)
}
const lower = 'scale.lower.signal@1'

describe('values intended before the zero was measured anew', () => {
  it('are what Scaling offers as long as nothing else was measured, whichever of the offers was taken', () => {
    expect(offers.length).toBeGreaterThan(1)
    for (const { values } of offers) {
      expect(intendedApart(values, { values })).toEqual([])
      expect(written(intending(before, values))).toEqual([])
    }
  })

  it('are told at the foot and at Scaling once the zero is another', () => {
    const { values } = offers[0]!
    const after = intending(zeroAt('0.212'), values)
    expect(values[lower]).toBe('0.210')
    expect(written(after)).toEqual(['WT-101'])
    const [shown] = offersFor(after)
    const state = { ...holding({}), differs: [{ key: lower, held: null, intended: '0.210' }] }
    expect(intendedApartWords(after, shown!.values, state, '.')).toMatch(
      /^What is intended is not what is shown: lower pair, signal 0\.210, upper pair, signal .+\. Review and write would write that\.$/,
    )
    expect(intendedApartWords(after, shown!.values, holding({}), '.')).not.toContain('would write')
  })

  it('are not told at the foot where the indicator holds them: a write would leave them alone', () => {
    const { values } = offers[0]!
    expect(written(intending(zeroAt('0.212'), values), Object.keys(values))).toEqual([])
  })

  it('are none where nothing is intended, or only what no scaling is made of', () => {
    const [shown] = offersFor(zeroAt('0.212'))
    for (const intended of [{}, { 'filter.time@1': '0.5' }]) {
      expect(written(intending(zeroAt('0.212'), intended))).toEqual([])
      expect(intendedApartWords(intending(before, intended), shown!.values, undefined, '.')).toBeUndefined()
    }
  })

  it('another pair that is chosen on the screen than the one intended is told there only', () => {
    const [best, other] = offers
    const point = intending(before, best!.values)
    expect(intendedApartWords(point, other!.values, undefined, '.')).toContain('upper pair, reading')
    expect(written(point)).toEqual([])
  })
})
