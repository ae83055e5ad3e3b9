import { Button } from '@mantine/core'
import type { ReactNode } from 'react'
import type { Bus, Indicator, Job } from '../../app/job/schema.ts'
import { Failed } from '../parts/failed.tsx'
import { Panel } from '../parts/panel.tsx'
import { useRequest } from '../state/host-context.tsx'
import { closePanel } from '../table/below.ts'
import { Labelled } from '../terms/labelled.tsx'
import type { TermName } from '../terms/terms.ts'
import { BusForm } from './bus-form.tsx'
import { BusListen } from './bus-listen.tsx'
import { BusRow } from './bus-row.tsx'
import { BusScan } from './bus-scan.tsx'
import { busWork, type Work } from './bus-work.ts'
import { type IndicatorDraft, IndicatorForm } from './indicator-form.tsx'
import { IndicatorRow } from './indicator-row.tsx'
import { NewUnits } from './new-units.tsx'
import { LastScan } from './scan-found.tsx'

/** The buses with their health and the indicators on them: added, edited, looked for, listened to. */
export function BusesPanel({ job }: { job: Job }) {
  const chosen = busWork.use()
  // Without a bus there is nothing else to do here.
  const work: Work = chosen ?? (job.buses.length === 0 ? { on: 'bus-form', busId: null } : null)
  const setWork = busWork.set
  const removeBus = useRequest('bus.remove')
  const closeBus = useRequest('bus.close')
  const removeIndicator = useRequest('indicator.remove')
  const failure = removeBus.failure ?? removeIndicator.failure ?? closeBus.failure
  const close = () => {
    setWork(null)
    closePanel()
  }
  const done = () => (job.buses.length === 0 ? close() : setWork(null))

  const take = (foundOn: string) => (draft: Partial<IndicatorDraft>) => setWork({ on: 'indicator-form', indicatorId: null, draft, foundOn })

  const takeAway = async (bus: Bus) => {
    // The host takes an open bus away from nobody; there is nothing on it any more.
    await closeBus.ask({ busId: bus.id })
    await removeBus.ask({ revision: job.revision, busId: bus.id })
  }

  return (
    <Panel
      title="Buses and indicators"
      onClose={close}
      beside={
        <span className="button-row">
          <Button aria-pressed={work?.on === 'bus-form' && work.busId === null} onClick={() => setWork({ on: 'bus-form', busId: null })}>
            Add a bus
          </Button>
          <Button
            disabled={job.buses.length === 0}
            aria-pressed={work?.on === 'indicator-form' && work.indicatorId === null}
            onClick={() => setWork({ on: 'indicator-form', indicatorId: null, draft: {} })}
          >
            Add an indicator
          </Button>
        </span>
      }
    >
      <WorkArea job={job} work={work} onWork={setWork} onTake={take} onDone={done} />
      {job.buses.map((bus) =>
        work?.on === 'scan' && work.busId === bus.id ? null : <LastScan key={bus.id} job={job} bus={bus} onTake={take(bus.id)} />,
      )}
      <Failed of={failure} />
      {job.buses.length > 0 ? (
        <table className="plain-table" aria-label="Buses">
          <thead>
            <Heads>{['Bus', 'Reached by', 'State', 'Units', 'Answers in', 'Readings/s each', '']}</Heads>
          </thead>
          <tbody>
            {job.buses.map((bus) => (
              <BusRow key={bus.id} job={job} bus={bus} onWork={setWork} onRemove={() => void takeAway(bus)} />
            ))}
          </tbody>
        </table>
      ) : null}
      {job.indicators.length > 0 ? (
        <table className="plain-table" aria-label="Indicators">
          <thead>
            <Heads>{['Indicator', 'Bus', 'Address', 'Profile', 'Points', 'State', '']}</Heads>
          </thead>
          <tbody>
            {job.indicators.map((indicator) => (
              <IndicatorRow
                key={indicator.id}
                job={job}
                indicator={indicator}
                onWork={setWork}
                onRemove={() => void removeIndicator.ask({ revision: job.revision, indicatorId: indicator.id })}
              />
            ))}
          </tbody>
        </table>
      ) : null}
    </Panel>
  )
}

const headTerms: readonly { of: string; term: TermName }[] = [
  { of: 'Bus', term: 'bus' },
  { of: 'Address', term: 'address' },
  { of: 'Profile', term: 'profile' },
]

function Heads({ children }: { children: readonly string[] }) {
  return (
    <tr>
      {children.map((head) => (
        <th scope="col" key={head} aria-label={head === '' ? 'What can be done' : undefined}>
          <Labelled label={head} term={headTerms.find(({ of }) => of === head)?.term} />
        </th>
      ))}
    </tr>
  )
}

function WorkArea({
  job,
  work,
  onWork,
  onTake,
  onDone,
}: {
  job: Job
  work: Work
  onWork: (work: Work) => void
  onTake: (busId: string) => (draft: Partial<IndicatorDraft>) => void
  onDone: () => void
}): ReactNode {
  if (!work) return null
  if (work.on === 'indicator-form') {
    const indicator: Indicator | null = job.indicators.find((i) => i.id === work.indicatorId) ?? null
    if (work.indicatorId !== null && !indicator) return null
    const { draft, foundOn } = work
    // Where one unit was found there may be more to take.
    const after = foundOn === undefined ? onDone : () => onWork({ on: 'scan', busId: foundOn })
    return (
      <IndicatorForm
        key={work.indicatorId ?? `new ${draft.busId} ${draft.unit}`}
        job={job}
        indicator={indicator}
        draft={draft}
        onDone={after}
      />
    )
  }
  const bus = job.buses.find((b) => b.id === work.busId) ?? null
  if (work.on === 'bus-form') {
    // What comes next on a new bus.
    const added = (busId: string) => onWork({ on: 'scan', busId })
    return <BusForm key={work.busId ?? 'new'} job={job} bus={bus} onAdded={added} onDone={onDone} />
  }
  if (!bus) return null
  if (work.on === 'new-units') return <NewUnits key={bus.id} job={job} bus={bus} />
  if (work.on === 'listen') return <BusListen key={bus.id} bus={bus} />
  return <BusScan key={bus.id} job={job} bus={bus} asked={work} onTake={onTake(bus.id)} />
}
