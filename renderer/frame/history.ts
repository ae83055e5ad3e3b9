import { useCallback } from 'react'
import { explain } from '../figures/explain.ts'
import { useAsking, useTopic } from '../state/host-context.tsx'
import { sharedState } from '../state/shared-state.ts'

/** What the last undo or redo did, or why it could not be done; for the foot. */
export const lastStep = sharedState<{ text: string; failed: boolean } | null>(null)

/** Undo and redo of what people decided; nothing in an indicator is changed by it. `undo`, `redo`: what they would do, in words, or null. */
export function useHistory() {
  const ask = useAsking()
  const session = useTopic('session')
  const revision = useTopic('job')?.revision ?? 0
  const [undo, redo] = [session?.undo ?? null, session?.redo ?? null]
  const go = useCallback(
    async (way: 'undo' | 'redo') => {
      const label = way === 'undo' ? undo : redo
      if (label === null) return lastStep.set({ text: `There is nothing to ${way}.`, failed: false })
      const answer = await ask(`job.${way}`, { revision })
      lastStep.set(
        answer.ok
          ? { text: `${way === 'undo' ? 'Undone' : 'Done again'}: ${answer.value.label}`, failed: false }
          : { text: explain(answer.failure), failed: true },
      )
    },
    [ask, revision, undo, redo],
  )
  return { undo, redo, go }
}
