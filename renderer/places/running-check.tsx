import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useId, useState } from 'react'
import type { QuickCheck } from '../../app/job/schema.ts'
import { parseNumber } from '../../app/quantity/parse.ts'
import { readingState } from '../chain/reading-text.ts'
import { scalingDoubt } from '../chain/scaling-doubt.ts'
import { explain } from '../figures/explain.ts'
import { decimalsOf, fixedText, numberText } from '../figures/number-text.ts'
import { TrendChart } from '../figures/trend/trend-chart.tsx'
import { following } from '../figures/trend/trend-view.ts'
import { LargeDigits } from '../parts/large-digits.tsx'
import { ScalingInDoubt } from '../parts/scaling-in-doubt.tsx'
import { Scroller } from '../parts/scroller.tsx'
import { useRequest } from '../state/host-context.tsx'
import { keptState, withKeys } from '../state/kept-state.ts'
import type { PointView } from '../state/point-view.ts'
import { BenchLoad } from './bench-load.tsx'
import { captureReady } from './capture-ready.ts'
import { type Column, Weights } from './weights.tsx'

const lastSeconds = following(20_000)

type Kept = { checkId: string; typed: string }
/** The load that somebody typed for the check under way; it must not become another one by loading the page again. */
const typedLoad = keptState<Kept | null>('check-load', null, withKeys<Kept>('checkId', 'typed'))

/** The guided run: put the load on, watch it settle, take the reading. */
export function RunningCheck({ view, check }: { view: PointView; check: QuickCheck }) {
  const { point, job } = view
  const sign = job.decimalSign
  const capture = useRequest('check.capture')
  const finish = useRequest('check.finish')
  const kept = typedLoad.use()
  const typed = kept?.checkId === check.id ? kept.typed : null
  const on = view.applied && Number(view.applied.load) > 0 ? view.applied.load : half(point.maximumLoad)
  const shownLoad = typed ?? numberText(on, sign)
  const loadId = useId()
  const { steps } = check
  const done = steps.length
  const parsed = parseNumber(shownLoad, sign)
  const wanted = steps[1]?.load ?? (parsed.ok ? parsed.value : '')
  const loads = ['0', wanted, '0']
  const load = loads[done] ?? '0'
  const before = steps.at(-1)
  const ready = done < 3 && load !== '' ? captureReady(view, load, before) : { armed: false, says: '' }
  const beyond = parsed.ok && Number(parsed.value) > Number(point.maximumLoad)
  const columns: Column[] = loads.map((l, i) => ({ load: l || '0', state: i < done ? 'taken' : i === done ? 'now' : 'to come' }))
  const state = readingState(view)
  const take = (typed?: string) => void capture.ask({ checkId: check.id, load, ...(typed === undefined ? {} : { typed }) })

  return (
    <>
      <Scroller className="check-left">
        <h2>
          {done < 3 ? `Step ${done + 1} of 3, ${done === 0 ? 'unloaded' : done === 1 ? 'loaded' : 'unloaded again'}` : 'All three taken'}
        </h2>
        {done === 1 ? (
          <div className="group">
            <label className="second" htmlFor={loadId}>
              Put on a known load
            </label>
            <TextInput
              id={loadId}
              className="load-input"
              value={shownLoad}
              onChange={(event) => typedLoad.set({ checkId: check.id, typed: event.currentTarget.value })}
              rightSection={<span className="unit">{point.unit}</span>}
              error={parsed.ok ? (beyond ? 'beyond maximum load' : null) : parsed.failure.why}
            />
          </div>
        ) : (
          <p className="instruction">
            {done === 0 ? 'Take everything off the point' : done === 2 ? 'Take the load off again' : 'Finish to get the verdict'}
          </p>
        )}
        <Weights columns={columns} unit={point.unit} />
        {job.simulated && done < 3 ? <BenchLoad key={done} view={view} suggest={load || '0'} /> : null}
        <p className="caution">Nobody under the load. Rated gear, and your site’s rules.</p>
      </Scroller>

      <section className="check-middle">
        <p className={state.tone === 'plain' ? 'second' : state.tone}>
          {point.tag} · {state.word} · {check.when.replace('-', ' ')}
          {scalingDoubt(view) ? (
            <>
              {' · '}
              <ScalingInDoubt said />
            </>
          ) : null}
        </p>
        <LargeDigits reading={state.reading} unit={state.unit} struck={state.struck} />
        {done < 3 ? (
          <>
            <p className="ready">{ready.says}</p>
            <div className="button-row">
              <Button variant="filled" disabled={!ready.armed || load === '' || beyond} loading={capture.running} onClick={() => take()}>
                Take the reading at {load === '0' ? 'no load' : `${numberText(load || '0', sign)} ${point.unit}`}
              </Button>
            </div>
          </>
        ) : (
          <div className="button-row">
            <Button variant="filled" loading={finish.running} onClick={() => void finish.ask({ checkId: check.id })}>
              Finish the check
            </Button>
          </div>
        )}
        <Scroller>
          {done < 3 ? <TypedReading view={view} disabled={load === ''} onTake={take} /> : null}
          {done > 0 && done < 3 ? (
            <button type="button" className="plain-link" onClick={() => void finish.ask({ checkId: check.id })}>
              End the check here; it cannot be judged then
            </button>
          ) : null}
          {[capture.failure, finish.failure].map((f, i) =>
            f ? (
              <p key={i === 0 ? 'capture' : 'finish'} className="lost" role="alert">
                {explain(f)}
              </p>
            ) : null,
          )}
          <div className="settling">
            <TrendChart
              traces={[{ pointId: point.id, label: point.tag, colour: 1, quantity: 'reading' }]}
              unit={point.unit}
              view={lastSeconds}
              leastSpan={Number(point.scaleInterval) * 10}
              time="relative"
              label={`Reading of ${point.tag} over the last 20 seconds`}
            />
          </div>
        </Scroller>
      </section>
    </>
  )
}

function TypedReading({ view, disabled, onTake }: { view: PointView; disabled: boolean; onTake: (typed: string) => void }) {
  const id = useId()
  const [typed, setTyped] = useState('')
  const [wrong, setWrong] = useState<string | null>(null)
  const take = (event: FormEvent) => {
    event.preventDefault()
    const value = parseNumber(typed, view.job.decimalSign)
    if (!value.ok) return setWrong(value.failure.why)
    setWrong(null)
    setTyped('')
    onTake(value.value)
  }
  return (
    <details className="figures">
      <summary>Type the reading instead</summary>
      <form className="command" onSubmit={take}>
        <label htmlFor={id} className="nowrap">
          As on the display
        </label>
        <TextInput
          id={id}
          className="short-input"
          value={typed}
          error={wrong}
          autoComplete="off"
          rightSection={<span className="unit">{view.point.unit}</span>}
          onChange={(event) => setTyped(event.currentTarget.value)}
        />
        <Button type="submit" disabled={disabled || typed.trim() === ''}>
          Take it as typed
        </Button>
      </form>
    </details>
  )
}

const half = (maximum: string) => fixedText(Number(maximum) / 2, decimalsOf(maximum)).replace(/[^\d.]/g, '')
