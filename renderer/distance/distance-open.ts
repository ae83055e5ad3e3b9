import { sharedState } from '../state/shared-state.ts'

export const distanceOpen = sharedState(false)
export const toggleDistance = (): void => distanceOpen.set((now) => !now)
