import { closeSidePanel } from '../frame/side-panel.ts'
import { keptState, oneOf } from '../state/kept-state.ts'

/** Lower than this the page has no room for a panel below the header and one below the table. */
const leastForBothPx = 900

/** What stands below the table: the trend (null where the page decides by its height), or a panel to work in. */
export type Below = 'trend' | 'nothing' | 'buses' | 'add' | 'import' | 'like' | 'edit' | 'zero' | null

export const below = keptState<Below>('below', null, oneOf('trend', 'nothing', 'buses', 'add', 'import', 'like', 'edit', 'zero'))

/** Opens a panel. */
export const openBelow = (panel: Exclude<Below, null>): void => {
  makeRoom()
  below.set(panel)
}
/** Opens a panel, or closes it where it is open already. */
export const toggleBelow = (panel: Exclude<Below, null>): void => (below.get() === panel ? closePanel() : openBelow(panel))
/** With little height a panel below the table takes the place of one below the header. */
export const makeRoom = (): void => {
  if (window.innerHeight < leastForBothPx) closeSidePanel()
}
export const closePanel = (): void => below.set(null)
