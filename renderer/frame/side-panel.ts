import { keptState, oneOf } from '../state/kept-state.ts'

/** A panel between header and work: the job as a file, the practice bench, or what a newcomer does first. */
export type SidePanel = 'job' | 'bench' | 'first-steps' | null

export const sidePanel = keptState<SidePanel>('side-panel', null, oneOf('job', 'bench', 'first-steps'))
export const toggleSidePanel = (panel: Exclude<SidePanel, null>): void => sidePanel.set((now) => (now === panel ? null : panel))
export const closeSidePanel = (): void => sidePanel.set(null)
