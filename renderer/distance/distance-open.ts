import { keptState, oneOf } from '../state/kept-state.ts'

export const distanceOpen = keptState('distance', false, oneOf(true, false))
export const toggleDistance = (): void => distanceOpen.set((now) => !now)
