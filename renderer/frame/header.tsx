import { Button } from '@mantine/core'
import { useSyncExternalStore } from 'react'
import type { Bus, Job } from '../../app/job/schema.ts'
import { dateText, fixedText } from '../figures/number-text.ts'
import { Shape } from '../parts/quantity.tsx'
import { busStateWords } from '../setup/bus-words.ts'
import { useHost, useTopic } from '../state/host-context.tsx'
import { FindField } from '../table/find-field.tsx'
import { sidePanel, toggleSidePanel } from './side-panel.ts'
import { useStopSending } from './stop-sending.ts'

/** Job, visit, buses, and Stop sending within reach on every screen. */
export function Header({ job }: { job: Job }) {
  const session = useTopic('session')
  const { stop, running } = useStopSending()
  const panel = sidePanel.use()
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
      <span className="second visit" title={said}>
        {said}
      </span>
      <span className="spring" />
      <span className="buses">
        {job.buses.length > mostBusesSingly ? <AllBuses job={job} /> : job.buses.map((bus) => <BusState key={bus.id} bus={bus} />)}
      </span>
      <Button onClick={stop} loading={running} disabled={session?.stopped ?? true}>
        {session?.stopped ? 'Sending stopped' : 'Stop sending'}
        {session?.stopped ? null : <span className="key">Shift Esc</span>}
      </Button>
      <FindField />
    </header>
  )
}

/** More buses than this are told together, and singly only where something is not right. */
const mostBusesSingly = 2

function AllBuses({ job }: { job: Job }) {
  const { store } = useHost()
  // Told anew with every change, as text: a new list each time would never settle.
  const told = useSyncExternalStore(store.subscribe, () => {
    const views = job.buses.map((bus) => ({ bus, view: store.topic('bus', bus.id) }))
    const wrong = views.filter(({ view }) => view?.state !== 'open' || view.silent > 0).map(({ bus }) => bus.id)
    return [views.reduce((sum, { view }) => sum + (view?.answering ?? 0), 0), ...wrong].join('\n')
  })
  const [answering, ...wrong] = told.split('\n')
  return (
    <>
      <span className="bus-state">
        <b>{job.buses.length} buses</b> <span className="second">{answering} answering</span>
      </span>
      {job.buses
        .filter((bus) => wrong.includes(bus.id))
        .map((bus) => (
          <BusState key={bus.id} bus={bus} />
        ))}
    </>
  )
}

function BusState({ bus }: { bus: Bus }) {
  const state = useTopic('bus', bus.id)
  const { decimalSign } = useTopic('job') ?? { decimalSign: '.' as const }
  const stopped = useTopic('session')?.stopped ?? false
  if (!state) return <span className="bus-state second">{bus.name}</span>
  const total = state.answering + state.silent
  const running = state.state === 'open'
  return (
    <span className="bus-state" title={state.why}>
      <b>{bus.name}</b>{' '}
      {!running ? (
        <span className={stopped ? 'attention' : state.state === 'down' || state.state === 'halted' ? 'lost' : 'second'}>
          {stopped ? 'stopped' : busStateWords[state.state]}
        </span>
      ) : null}
      {running && state.silent === 0 ? (
        <span className="second">
          {state.answering} answering
          {state.readingsPerSecond === undefined ? null : (
            <span title="readings per second, measured">
              , {fixedText(state.readingsPerSecond, 1, decimalSign)}
              <span className="where-wide"> readings</span>/s{total > 1 ? ' each' : ''}
            </span>
          )}
        </span>
      ) : null}
      {state.silent > 0 && running ? (
        <span className="lost">
          <Shape kind="square" />
          {state.silent} of {total} silent
        </span>
      ) : null}
    </span>
  )
}
