import { Button, NativeSelect, TextInput } from '@mantine/core'
import { useEffect, useRef, useState } from 'react'
import type { ScanView } from '../../app/contract/bus-calls.ts'
import type { Bus, Job } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { useRequest, useTopic } from '../state/host-context.tsx'
import { profileOf } from '../state/profiles.ts'
import { formatText, isSerial } from './bus-words.ts'
import type { Work } from './bus-work.ts'
import type { IndicatorDraft } from './indicator-form.tsx'

const answerMs = 300

/** Looks for units on one bus, with reads only; what answers can be taken into the job. */
export function BusScan({
  job,
  bus,
  asked,
  onTake,
}: {
  job: Job
  bus: Bus
  /** A new one each time somebody asks for the look. */
  asked: Work
  onTake: (draft: Partial<IndicatorDraft>) => void
}) {
  const { ask, running, failure } = useRequest('bus.scan')
  const stop = useRequest('bus.scan-stop')
  const view = useTopic('scan', bus.id)
  const [typed, setTyped] = useState(isSerial(bus) ? '1-32' : '1-8')
  const [formats, setFormats] = useState<'as-set' | 'usual'>('as-set')
  const units = addresses(typed)
  const scanning = view?.state === 'running'
  const field = useRef<HTMLInputElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked for again, it is shown again
  useEffect(() => field.current?.focus(), [asked])

  return (
    <section className="stacked" aria-label={`Look for units on ${bus.name}`}>
      <div className="field-row">
        <TextInput
          ref={field}
          label="Unit addresses"
          value={typed}
          error={units === null ? 'e.g. 1-32 or 1, 5, 10-20; at most 247' : null}
          onChange={(e) => setTyped(e.currentTarget.value)}
        />
        {isSerial(bus) ? (
          <NativeSelect
            label="Line formats"
            className="long-input"
            value={formats}
            data={[
              { value: 'as-set', label: 'the one the bus is set to' },
              { value: 'usual', label: 'all usual ones; takes much longer' },
            ]}
            onChange={(e) => setFormats(e.currentTarget.value === 'usual' ? 'usual' : 'as-set')}
          />
        ) : null}
        {scanning ? (
          <Button className="in-field-row" loading={stop.running} onClick={() => void stop.ask({ busId: bus.id })}>
            Stop looking
          </Button>
        ) : (
          <Button
            className="in-field-row"
            loading={running}
            disabled={units === null}
            onClick={() => (units ? void ask({ busId: bus.id, units, formats, answerMs }) : undefined)}
          >
            Start looking
          </Button>
        )}
      </div>
      {(failure ?? stop.failure) ? (
        <p className="lost" role="alert">
          {failure ? explain(failure) : stop.failure ? explain(stop.failure) : ''}
        </p>
      ) : null}
      {view ? <Found job={job} bus={bus} view={view} onTake={onTake} /> : null}
      {view ? null : (
        <p className="second">Only reads are sent; live reading on this bus rests meanwhile. How long it takes is said at once.</p>
      )}
    </section>
  )
}

function Found({ job, bus, view, onTake }: { job: Job; bus: Bus; view: ScanView; onTake: (draft: Partial<IndicatorDraft>) => void }) {
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
            {view.endedBy ?? ''}
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

/** "1-32", "1, 5, 10-20" as addresses; null where it is none. */
export function addresses(typed: string): number[] | null {
  const parts = typed.split(/[,;\s]+/).filter((part) => part !== '')
  const all = new Set<number>()
  for (const part of parts) {
    const [, from, to] = /^(\d{1,3})(?:[-–](\d{1,3}))?$/.exec(part) ?? []
    const [first, last] = [Number(from), Number(to ?? from)]
    if (from === undefined || last < first || last > 247) return null
    for (let unit = first; unit <= last; unit += 1) all.add(unit)
  }
  return all.size === 0 ? null : [...all]
}
