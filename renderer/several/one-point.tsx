import { NativeSelect } from '@mantine/core'
import type { Job, Point } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { TextField } from '../parts/edit-field.tsx'
import { channelsFor } from '../setup/free-channels.ts'
import { useRequest } from '../state/host-context.tsx'
import { usePointEdit } from '../state/use-point-edit.ts'

/** What only one point can be given: its tag, its name, and the channel that it hangs on. */
export function OnePoint({ job, point }: { job: Job; point: Point }) {
  const edit = usePointEdit(point.id)
  const { ask, failure } = useRequest('point.edit')
  const held = point.indicatorId ? `${point.indicatorId} ${point.channel}` : ''
  return (
    <div className="field-row one-point">
      <TextField label="Tag" stacked value={point.tag} edit={edit} change={(tag) => ({ tag })} />
      <TextField label="Name" stacked value={point.name} edit={edit} change={(name) => ({ name })} />
      <NativeSelect
        label="Indicator and channel"
        className="long-input"
        value={held}
        data={[...(held === '' ? [{ value: '', label: 'none yet' }] : []), ...channelsFor(job, point.id)]}
        error={failure ? explain(failure) : null}
        onChange={(event) => {
          const [indicatorId, channel] = event.currentTarget.value.split(' ')
          if (indicatorId) void ask({ pointId: point.id, revision: job.revision, change: { indicatorId, channel: Number(channel) } })
        }}
      />
    </div>
  )
}
