import { sharedState } from '../state/shared-state.ts'

const dismissed = sharedState<ReadonlySet<string>>(new Set())

/** Results of writes that somebody has read and put away on this screen. */
export const dismissWrite = (result: string): void => dismissed.set((now) => new Set([...now, result]))

export const useDismissed = dismissed.use
