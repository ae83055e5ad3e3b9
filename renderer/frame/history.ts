import { useCallback } from 'react'
import { explain } from '../figures/explain.ts'
import { type Answer, useAsking, useHost, useTopic } from '../state/host-context.tsx'
import { sharedState } from '../state/shared-state.ts'
import { stepMadeWords } from './history-words.ts'

type LastStep = { jobId: string; revision: number; text: string; failed: boolean }
/** What the last undo or redo did, or why it could not be done. */
const lastStep = sharedState<LastStep | null>(null)

/** Undo and redo of what people decided; nothing in an indicator is changed by it. `undo`, `redo`: what they would do, in words, or null. */
export function useHistory() {
  const ask = useAsking()
  const { store } = useHost()
  const session = useTopic('session')
  const job = useTopic('job')
  const told = lastStep.use()
  // Keys are quicker than the screen: whether there is a step is for the host to say, not for what is drawn by then.
  const go = useCallback(
    async (way: 'undo' | 'redo') => {
      const { id: jobId = '', revision = 0 } = store.topic('job') ?? {}
      lastStep.set(stepTold(way, { jobId, revision }, await ask(`job.${way}`, { revision })))
    },
    [ask, store],
  )
  // What comes after it makes it old.
  const last = told && told.jobId === job?.id && told.revision === job.revision ? told : null
  return { undo: session?.undo ?? null, redo: session?.redo ?? null, go, last }
}

function stepTold(way: 'undo' | 'redo', before: { jobId: string; revision: number }, answer: Answer<'job.undo' | 'job.redo'>): LastStep {
  if (!answer.ok) return { ...before, text: explain(answer.failure), failed: true }
  return { ...before, revision: answer.value.revision, text: stepMadeWords(way, answer.value), failed: false }
}
