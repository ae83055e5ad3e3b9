import { Button } from '@mantine/core'
import type { Job } from '../../app/job/schema.ts'
import { openBuses } from '../setup/bus-work.ts'
import { openBelow } from './below.ts'
import type { Order } from './order.ts'

/** What to do first where there is nothing to show. */
export function EmptyTable({ job, order }: { job: Job; order: Order }) {
  if (job.points.length > 0)
    return (
      <div className="empty-state">
        {order.find.trim() ? (
          <>
            <p>
              Nothing has <b>{order.find.trim()}</b> in its tag, name, indicator or sensor serial
              {order.onlyAttention ? ', and needs attention' : ''}.
            </p>
            <Button onClick={() => order.setFind('')}>Show all points again</Button>
          </>
        ) : (
          <>
            <p>Nothing needed attention when this was asked for.</p>
            <Button onClick={() => order.setOnlyAttention(false)}>Show all points again</Button>
          </>
        )}
      </div>
    )
  const first = job.buses.length === 0 ? 'bus' : job.indicators.length === 0 ? 'indicator' : 'point'
  return (
    <div className="empty-state">
      {first === 'bus' ? (
        <p>
          <b>This job has no measuring points yet.</b> First say by which way the indicators are reached: a serial line or the network. Then
          look which units answer there.
        </p>
      ) : first === 'indicator' ? (
        <p>
          <b>The bus is there, no indicator on it yet.</b> Look which units answer, or add one by its address.
        </p>
      ) : (
        <p>
          <b>The indicators are there, no measuring point yet.</b> Add one for each channel, or paste a list from a spreadsheet.
        </p>
      )}
      <div className="button-row">
        {first === 'bus' ? <Button onClick={() => openBuses({ on: 'bus-form', busId: null })}>Add a bus</Button> : null}
        {first === 'indicator' ? (
          <Button onClick={() => openBuses({ on: 'scan', busId: job.buses[0]?.id ?? null })}>Look for units…</Button>
        ) : null}
        {first === 'point' ? <Button onClick={() => openBelow('add')}>Add a point</Button> : null}
        <Button onClick={() => openBelow('import')}>Paste points from a spreadsheet</Button>
      </div>
    </div>
  )
}
