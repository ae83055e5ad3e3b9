import { Button } from '@mantine/core'
import type { Indicator, Job } from '../../app/job/schema.ts'
import { briefly } from '../figures/explain.ts'
import { Shape } from '../parts/quantity.tsx'
import { useTopic } from '../state/host-context.tsx'
import { profileOf } from '../state/profiles.ts'
import type { Work } from './bus-work.ts'

const identityWords = {
  'not-asked': 'not identified yet',
  confirmed: 'identity confirmed',
  contradicted: 'another indicator than described',
  'cannot-tell': 'cannot tell what it is',
} as const

/** One indicator: where it answers, what describes it, and which points hang on it. */
export function IndicatorRow({
  job,
  indicator,
  onWork,
  onRemove,
}: {
  job: Job
  indicator: Indicator
  onWork: (work: Work) => void
  onRemove: () => void
}) {
  const view = useTopic('indicator', indicator.id)
  const tags = job.points.filter((p) => p.indicatorId === indicator.id).map((p) => p.tag)
  const silent = view && typeof view.answering === 'object' ? view.answering : null
  const identity = view?.identity.outcome ?? 'not-asked'
  return (
    <tr>
      <td>
        <b>{indicator.name}</b>
      </td>
      <td>{job.buses.find((b) => b.id === indicator.busId)?.name ?? '–'}</td>
      <td>{indicator.unit}</td>
      <td>{profileOf(job, indicator.profileId)?.name ?? indicator.profileId}</td>
      <td>{tags.length > 0 ? tags.join(', ') : <span className="second">none</span>}</td>
      <td>
        {silent ? (
          <span className="lost">
            <Shape kind="square" />
            {briefly(silent)}
          </span>
        ) : (
          <span className={identity === 'contradicted' ? 'lost' : identity === 'cannot-tell' ? 'attention' : ''}>
            {identityWords[identity]}
          </span>
        )}
      </td>
      <td>
        <span className="row-actions">
          <Button size="compact-sm" onClick={() => onWork({ on: 'indicator-form', indicatorId: indicator.id, draft: {} })}>
            Edit…
          </Button>
          <Button
            size="compact-sm"
            disabled={tags.length > 0}
            title={tags.length > 0 ? `It measures ${tags.join(', ')}; give them another indicator first` : undefined}
            onClick={onRemove}
          >
            Remove
          </Button>
        </span>
      </td>
    </tr>
  )
}
