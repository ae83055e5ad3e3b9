import { Button, NativeSelect, TextInput } from '@mantine/core'
import { useEffect, useRef, useState } from 'react'
import type { Bus, Job } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { useRequest } from '../state/host-context.tsx'
import { isSerial } from './bus-words.ts'
import type { Work } from './bus-work.ts'
import type { IndicatorDraft } from './indicator-form.tsx'
import { ScanFound, useScan } from './scan-found.tsx'

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
  const view = useScan(bus.id)
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
      {view ? (
        <ScanFound job={job} bus={bus} view={view} onTake={onTake} />
      ) : (
        <p className="second">Only reads are sent; live reading on this bus rests meanwhile. How long it takes is said at once.</p>
      )}
    </section>
  )
}

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
