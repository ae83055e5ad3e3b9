import { useLayoutEffect } from 'react'
import { busWork } from '../setup/bus-work.ts'
import { keptState } from '../state/kept-state.ts'
import { closePanel } from '../table/below.ts'
import { anotherVisit } from './visit-start.tsx'

const shown = keptState<string | null>('job', null, (found) => (typeof found === 'string' ? found : undefined))

/** What was being added or changed in one job is not gone on with in the next; over a reload of the same it is. */
export function useAnotherJob(jobId: string | undefined): void {
  useLayoutEffect(() => {
    if (jobId === undefined || shown.get() === jobId) return
    const isNext = shown.get() !== null
    shown.set(jobId)
    if (!isNext) return
    busWork.set(null)
    closePanel()
    anotherVisit.set(false)
  }, [jobId])
}
