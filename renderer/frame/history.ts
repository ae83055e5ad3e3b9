import { useCallback } from 'react'
import { explain } from '../figures/explain.ts'
import { useAsking, useTopic } from '../state/host-context.tsx'
import { sharedState } from '../state/shared-state.ts'
import { stepMadeWords } from './history-words.ts'

type LastStep = { jobId: string; revision: number; text: string; failed: boolean }
/** What the last undo or redo did, or why it could not be done. */
const lastStep = sharedState<LastStep | null>(null)

/** Undo and redo of what people decided; nothing in an indicator is changed by it. `undo`, `redo`: what they would do, in words, or null. */
export function useHistory() {
  const ask = useAsking()
  const session = useTopic('session')
  const { id: jobId = '', revision = 0 } = useTopic('job') ?? {}
  const told = lastStep.use()
  const [undo, redo] = [session?.undo ?? null, session?.redo ?? null]
  const go = useCallback(
    async (way: 'undo' | 'redo') => {
      const label = way === 'undo' ? undo : redo
      if (label === null) return lastStep.set({ jobId, revision, text: `There is nothing to ${way}.`, failed: false })
      const answer = await ask(`job.${way}`, { revision })
      lastStep.set(
        answer.ok
          ? {
              jobId,
              revision: answer.value.revision,
              text: stepMadeWords(way, answer.value),
              failed: false,
            }
          : { jobId, revision, text: explain(answer.failure), failed: true },
      )
    },
    [ask, jobId, revision, undo, redo],
  )
  // What comes after it makes it old.
  const last = told?.jobId === jobId && told.revision === revision ? told : null
  return { undo, redo, go, last }
}
