import { expect, it } from 'vitest'
import type { Indicator } from '../../../app/job/schema.ts'
import { chainCells, needsAttention } from '../../../renderer/chain/chain-cells.ts'
import { makeView } from '../../builders/point-view.ts'

const broken = { by: 'A. Tester', reason: 'new cell', at: '2026-01-01T00:00:00Z' }

it.each<[Indicator['sealed'], string | undefined]>([
  [undefined, undefined],
  [{ seals: 'S-1' }, 'sealed'],
  [{ seals: 'S-1', broken }, 'seal broken'],
  [{ seals: 'S-2', earlier: [{ seals: 'S-1', broken }] }, 'sealed'],
])('the settings of an indicator with the seal %j are told as %s, quietly', (sealed, also) => {
  const indicator: Indicator = { id: 'i1', name: 'Unit', busId: 'b1', unit: 1, profileId: 'p', sealed }
  const view = makeView({ indicator })
  expect(chainCells.settings(view)).toMatchObject({ also, tone: 'plain' })
  expect(needsAttention(view)).toEqual(needsAttention(makeView({ indicator: { ...indicator, sealed: undefined } })))
})
