import { sharedState } from '../state/shared-state.ts'

/** What stands below the table: the trend (null where the page decides by its height), or a panel to work in. */
export type Below = 'trend' | 'nothing' | 'buses' | 'add' | 'import' | 'like' | 'edit' | 'zero' | null

export const below = sharedState<Below>(null)

/** Opens a panel, or closes it where it is open already. */
export const toggleBelow = (panel: Exclude<Below, null>): void => below.set((now) => (now === panel ? null : panel))
export const closePanel = (): void => below.set(null)
