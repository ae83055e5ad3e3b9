import { expect, it } from 'vitest'
import { showWiring } from '../../../renderer/chain/cells/wiring.tsx'
import { expectedLines } from '../../../renderer/chain/expected.ts'
import { makeView } from '../../builders/point-view.ts'
import { makePoint } from '../../builders/weighing-point.ts'

const conductor = { kind: 'awg', gauge: 24 }
const viewOf = (wiring: Record<string, unknown>) => makeView({ point: makePoint({ wiring: { wires: 4, ...wiring } }) })

it.each([
  ['a cable without its length', { cable: { conductor } }, 'length not stated'],
  ['a cut cable without its lengths', { ownCable: { conductor } }, 'length not stated'],
  ['a part without its ohms', { series: [{ what: 'barrier', between: 'indicator-and-box' }] }, 'ohms not stated'],
])('says of %s what is missing, with and without a known load', (_what, wiring, words) => {
  const view = viewOf(wiring)
  expect(showWiring(view)).toMatchObject({ most: 'four-wire', detail: words })
  expect(expectedLines({ ...view, applied: { load: '100', at: 0 } })?.wiring).toBe(words)
})
