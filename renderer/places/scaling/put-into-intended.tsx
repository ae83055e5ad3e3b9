import { Button } from '@mantine/core'
import { intendedApartWords } from '../../chain/intended-apart.ts'
import { Failed } from '../../parts/failed.tsx'
import { Shape } from '../../parts/quantity.tsx'
import { useRequest, useTopic } from '../../state/host-context.tsx'
import type { PointView } from '../../state/point-view.ts'

/** Chosen values go into what is intended; nothing is written yet. */
export function PutIntoIntended({ view, values }: { view: PointView; values: Record<string, string> }) {
  const { job, point, state } = view
  const revision = useTopic('job')?.revision ?? 0
  const { ask, running, failure } = useRequest('point.intend')
  const changed = Object.entries(values).filter(([key, value]) => point.intended[key] !== value).length
  const apart = intendedApartWords(point, values, state, job.decimalSign)
  const closed = Boolean(state?.writing) || Boolean(view.runningCheck)
  return (
    <>
      <div className="button-row">
        <Button
          variant="filled"
          disabled={changed === 0 || closed}
          loading={running}
          onClick={() => void ask({ pointId: point.id, revision, values })}
        >
          Put into intended values
        </Button>
        {apart ? (
          <span className="attention">
            <Shape kind="triangle" />
            {apart}
          </span>
        ) : (
          <span className="second">
            {closed
              ? 'closed while a check or a write runs'
              : changed === 0
                ? 'these values are what is intended'
                : `${changed} ${changed === 1 ? 'value' : 'values'}, this point; nothing is written yet`}
          </span>
        )}
      </div>
      <Failed of={failure} />
    </>
  )
}
