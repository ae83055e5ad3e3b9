import { Button } from '@mantine/core'
import type { Job } from '../../app/job/schema.ts'
import { dateText } from '../figures/number-text.ts'
import { useTopic } from '../state/host-context.tsx'
import { FindField } from '../table/find-field.tsx'
import { HeaderBuses } from './header-buses.tsx'
import { sidePanel, toggleSidePanel } from './side-panel.ts'
import { useStopSending } from './stop-sending.ts'
import { anotherVisit } from './visit-start.tsx'

/** Job, visit, buses, and Stop sending within reach on every screen. */
export function Header({ job }: { job: Job }) {
  const session = useTopic('session')
  const { stop, running } = useStopSending()
  const panel = sidePanel.use()
  const another = anotherVisit.use()
  const visit = job.visits.find((v) => v.id === session?.visitId)
  const said = visit ? `visit ${dateText(new Date(visit.startedAt))}, ${visit.by}` : 'no visit started'
  return (
    <header className="header">
      <button
        type="button"
        className="header-button job"
        aria-expanded={panel === 'job'}
        title={`${job.name}: this job and others`}
        onClick={() => toggleSidePanel('job')}
      >
        <b>{job.name}</b>
        <span className="key" aria-hidden="true">
          ▾
        </span>
      </button>
      {job.simulated ? (
        <span>
          <span className="practice" title="Everything here is simulated; no real machine is reached">
            Practice
          </span>{' '}
          <span className="second">simulated</span>{' '}
          <button type="button" className="plain-link" aria-expanded={panel === 'bench'} onClick={() => toggleSidePanel('bench')}>
            Practice bench
          </button>
        </span>
      ) : null}
      {visit ? (
        <button
          type="button"
          className="header-button second visit"
          title={`${said}; begin another`}
          aria-expanded={another}
          onClick={() => anotherVisit.set((now) => !now)}
        >
          {said}
        </button>
      ) : (
        <span className="second visit">{said}</span>
      )}
      <span className="spring" />
      <HeaderBuses job={job} />
      <Button onClick={stop} loading={running} disabled={session?.stopped ?? true}>
        {session?.stopped ? 'Sending stopped' : 'Stop sending'}
        {session?.stopped ? null : <span className="key">Shift Esc</span>}
      </Button>
      <FindField />
    </header>
  )
}
