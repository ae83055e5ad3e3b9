import { Button } from '@mantine/core'
import type { ScanView } from '../../app/contract/bus-calls.ts'
import type { Bus, Job } from '../../app/job/schema.ts'
import { useTopic } from '../state/host-context.tsx'
import { keptState } from '../state/kept-state.ts'
import { profileOf } from '../state/profiles.ts'
import { formatText, isSerial } from './bus-words.ts'
import type { IndicatorDraft } from './indicator-form.tsx'

/** By bus, when the look began whose result nobody wants to see any more. */
const dismissed = keptState<Readonly<Record<string, string>>>('scans-dismissed', {}, (found) =>
  typeof found === 'object' && found !== null ? (found as Record<string, string>) : undefined,
)

/** The last look for units on a bus, until it is dismissed or another one begins. */
export function useScan(busId: string): ScanView | undefined {
  const view = useTopic('scan', busId)
  const gone = dismissed.use()[busId]
  return view && view.startedAt !== gone ? view : undefined
}

type Look = { job: Job; bus: Bus; onTake: (draft: Partial<IndicatorDraft>) => void }

/** What was found stays in sight while something else is done about buses and indicators. */
export function LastScan({ job, bus, onTake }: Look) {
  const view = useScan(bus.id)
  return view ? (
    <section className="stacked" aria-label={`Last look on ${bus.name}`}>
      <h3>Look for units on {bus.name}</h3>
      <ScanFound job={job} bus={bus} view={view} onTake={onTake} />
    </section>
  ) : null
}

/** How far the look has come and what answered, each to be taken into the job. */
export function ScanFound({ job, bus, view, onTake }: Look & { view: ScanView }) {
  return (
    <>
      <p role="status">
        {view.state === 'running' ? (
          <>
            {view.asked} of {view.of} asked
            {view.trying ? `, now ${view.trying.unit}${view.trying.format ? ` at ${formatText(view.trying.format)}` : ''}` : ''}; at most{' '}
            {secondsText(view.leftMs)} left
          </>
        ) : (
          <>
            {view.asked} of {view.of} asked, {view.found.length === 0 ? 'nothing answered' : `${view.found.length} found`}.{' '}
            {view.endedBy ?? ''}{' '}
            <Button size="compact-sm" onClick={() => dismissed.set((all) => ({ ...all, [bus.id]: view.startedAt }))}>
              Dismiss
            </Button>
          </>
        )}
      </p>
      {view.found.length + view.unclear.length > 0 ? (
        <table className="plain-table" aria-label="Units that were found">
          <thead>
            <tr>
              <th scope="col">Unit</th>
              {isSerial(bus) ? <th scope="col">Format</th> : null}
              <th scope="col">What it seems to be</th>
              <th scope="col" aria-label="Take it into the job" />
            </tr>
          </thead>
          <tbody>
            {view.found.map((f) => {
              const here = job.indicators.find((i) => i.busId === bus.id && i.unit === f.unit)
              const [profileId] = f.profileIds
              return (
                <tr key={`${f.unit} ${f.format ? formatText(f.format) : ''}`}>
                  <td>
                    <b>{f.unit}</b>
                  </td>
                  {isSerial(bus) ? <td>{f.format ? formatText(f.format) : '–'}</td> : null}
                  <td>
                    {f.profileIds.length === 0
                      ? 'no profile proves what it is'
                      : f.profileIds.map((id) => profileOf(job, id)?.name ?? id).join(' or ')}
                  </td>
                  <td>
                    {here ? (
                      <span className="second">{here.name}, in this job</span>
                    ) : (
                      <Button
                        size="compact-sm"
                        onClick={() => onTake({ busId: bus.id, unit: f.unit, ...(profileId ? { profileId } : {}) })}
                      >
                        Take unit {f.unit}
                      </Button>
                    )}
                  </td>
                </tr>
              )
            })}
            {view.unclear.map((u) => (
              <tr key={`unclear ${u.unit} ${u.format ? formatText(u.format) : ''}`}>
                <td>
                  <b>{u.unit}</b>
                </td>
                {isSerial(bus) ? <td>{u.format ? formatText(u.format) : '–'}</td> : null}
                <td colSpan={2} className="attention">
                  {u.why}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : null}
    </>
  )
}

const secondsText = (ms: number) => (ms < 90_000 ? `${Math.ceil(ms / 1000)} s` : `${Math.ceil(ms / 60_000)} min`)
