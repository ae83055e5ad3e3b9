import { Button } from '@mantine/core'
import { useState } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { useAsking, useHost } from '../state/host-context.tsx'
import { closePanel } from '../table/below.ts'
import { type Scope, scopeWords } from '../table/choice.ts'
import { runSeveral } from './runs.ts'

/** Takes points out of the job, asked once more; what stands in evidence stays, and says so. */
export function RemovePoints({ job, scope }: { job: Job; scope: Scope }) {
  const ask = useAsking()
  const { store } = useHost()
  const [sure, setSure] = useState(false)
  const words = scopeWords(scope, job)
  const points = scope.ids.flatMap((id) => job.points.filter((p) => p.id === id))
  const remove = () => {
    closePanel()
    void runSeveral(
      `Remove ${words} from the job`,
      points.map(({ id, tag }) => ({
        key: id,
        tag,
        // One lane: each is taken away from the job that the one before has left.
        lane: 'job',
        act: async () => {
          const answer = await ask('point.remove', { pointId: id, revision: store.topic('job')?.revision ?? job.revision })
          return answer.ok ? ({ state: 'done', says: 'removed' } as const) : ({ state: 'failed', says: explain(answer.failure) } as const)
        },
      })),
    )
  }
  if (!sure)
    return (
      <div className="button-row">
        <Button disabled={points.length === 0} onClick={() => setSure(true)}>
          Remove {words} from the job…
        </Button>
      </div>
    )
  return (
    <div className="button-row" role="alertdialog" aria-label={`Remove ${words}`}>
      <span>
        {points.map((p) => p.tag).join(', ')} and what is known of {points.length === 1 ? 'its' : 'their'} sensors go out of this job. The
        indicators stay as they are.
      </span>
      <Button onClick={remove}>Remove {words}</Button>
      <Button onClick={() => setSure(false)}>Keep</Button>
    </div>
  )
}
