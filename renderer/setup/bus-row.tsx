import { Button } from '@mantine/core'
import type { Bus, Job } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { Shape } from '../parts/quantity.tsx'
import { useRequest, useTopic } from '../state/host-context.tsx'
import { answerText, busStateWords, heardText, isSerial, rateText, wayText } from './bus-words.ts'
import type { Work } from './bus-work.ts'

/** One bus: how it is reached, how it is, what it gives, and what can be done with it. */
export function BusRow({ job, bus, onWork, onRemove }: { job: Job; bus: Bus; onWork: (work: Work) => void; onRemove: () => void }) {
  const view = useTopic('bus', bus.id)
  const opening = useRequest('bus.open')
  const closing = useRequest('bus.close')
  const session = useTopic('session')
  const stopped = session?.stopped ?? false
  const heard = view && session ? heardText(view, session.anchor) : null
  const isOpen = view !== undefined && view.state !== 'closed' && view.state !== 'down'
  const onIt = job.indicators.filter((i) => i.busId === bus.id).length
  const failure = opening.failure ?? closing.failure
  const bad = view?.state === 'down' || view?.state === 'halted'
  return (
    <tr>
      <td>
        <b>{bus.name}</b>
      </td>
      <td>{wayText(bus)}</td>
      <td>
        <span className={bad ? 'lost' : stopped ? 'attention' : ''}>
          {bad ? <Shape kind="square" /> : null}
          {stopped ? 'stopped' : view ? busStateWords[view.state] : 'closed'}
        </span>
        {view?.why || heard ? (
          <span className="second">
            {' '}
            {view?.why} {heard}
          </span>
        ) : null}
        {view?.remarks?.map((remark) => (
          <div key={remark} className="attention">
            {remark}
          </div>
        ))}
        {failure ? <div className="lost">{explain(failure)}</div> : null}
      </td>
      <td>
        {view ? `${view.answering} answering` : '–'}
        {view && view.silent > 0 ? (
          <span className="lost">
            {' '}
            <Shape kind="square" />
            {view.silent} silent
          </span>
        ) : null}
      </td>
      <td>{answerText(view, job.decimalSign)}</td>
      <td>{rateText(view, job.decimalSign)}</td>
      <td>
        <span className="row-actions">
          <Button size="compact-sm" disabled={stopped} onClick={() => onWork({ on: 'scan', busId: bus.id })}>
            Look for units…
          </Button>
          {isSerial(bus) ? (
            <Button size="compact-sm" onClick={() => onWork({ on: 'listen', busId: bus.id })}>
              Listen…
            </Button>
          ) : null}
          <Button size="compact-sm" disabled={stopped || !isOpen} onClick={() => onWork({ on: 'new-units', busId: bus.id })}>
            New units…
          </Button>
          {isOpen ? (
            <Button size="compact-sm" loading={closing.running} onClick={() => void closing.ask({ busId: bus.id })}>
              Close bus
            </Button>
          ) : (
            <Button size="compact-sm" loading={opening.running} onClick={() => void opening.ask({ busId: bus.id })}>
              Open bus
            </Button>
          )}
          <Button size="compact-sm" onClick={() => onWork({ on: 'bus-form', busId: bus.id })}>
            Edit…
          </Button>
          <Button
            size="compact-sm"
            disabled={onIt > 0}
            title={onIt > 0 ? `${onIt} on it; remove or move them first` : undefined}
            onClick={onRemove}
          >
            Remove
          </Button>
        </span>
      </td>
    </tr>
  )
}
