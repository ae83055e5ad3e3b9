import { expect, it } from 'vitest'
import { chainCells } from '../../../renderer/chain/chain-cells.ts'
import { movedSinceFound } from '../../../renderer/chain/since-found.ts'
import type { PointView } from '../../../renderer/state/point-view.ts'
import { heldImage } from '../../builders/held-image.ts'
import { holding, makeView } from '../../builders/point-view.ts'
import { makePoint, makeProfile } from '../../builders/weighing-point.ts'

const profile = makeProfile()
const found = { 'filter.time@1': '0.20', 'input.range@1': '2 mV/V' }

/** A point on channel 1 that intends nothing; `then` null where no visit keeps what was found. */
function viewOf(now: Record<string, string>, then: Record<string, string> | null = found, channel = 1): PointView {
  const image = then && heldImage(profile, then)
  return makeView({
    point: makePoint({ indicatorId: 'i1', channel }),
    indicator: { id: 'i1', name: 'Unit', busId: 'b1', unit: 1, profileId: profile.id },
    profile,
    state: { ...holding({}), held: heldImage(profile, now) },
    visit: image ? { id: 'v', startedAt: '2026-01-01T00:00:00Z', by: '', found: { i1: image }, left: {}, checks: [] } : undefined,
  })
}
const most = (view: PointView) => chainCells.settings(view).most

it('settings are as found until one is written, and not as found afterwards though nothing is intended any more', () => {
  expect(most(viewOf(found))).toBe('as found')
  expect(most(viewOf({ ...found, 'filter.time@1': '0.50' }))).toBe('1 not as found')
  expect(movedSinceFound(viewOf({ 'filter.time@1': '0.50', 'input.range@1': '3.5 mV/V' }))).toBe(2)
})

it('those of another channel are not counted', () => {
  expect(movedSinceFound(viewOf({ ...found, 'filter.time@1': '0.50' }, found, 2))).toBe(0)
})

it('nothing is called as found where no visit kept it', () => {
  expect(most(viewOf(found, null))).toBe('as held')
})
