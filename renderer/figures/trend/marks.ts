import { sharedState } from '../../state/shared-state.ts'
import type { Mark } from './trace.ts'

/** Moments that somebody marked while this page is open. They belong to the time, not to one chart. */
const marks = sharedState<readonly Mark[]>([])

export const useMarks = () => marks.use()
export const addMark = (mark: Mark) => marks.set((now) => [...now, mark])
export const removeMark = (at: number) => marks.set((now) => now.filter((m) => m.at !== at))
export const clearMarks = () => marks.set([])
export const nameMark = (at: number, label: string) => marks.set((now) => now.map((m) => (m.at === at ? { at, label } : m)))
