import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useId, useState } from 'react'
import type { EvaluatedStep } from '../../app/evaluation/quick-check.ts'
import type { QuickCheck } from '../../app/job/schema.ts'
import { parseNumber } from '../../app/quantity/parse.ts'
import { isSuperseded, judgeCheck } from '../chain/judge-check.ts'
import { readingState } from '../chain/reading-text.ts'
import { explain } from '../figures/explain.ts'
import { clockText, dateText, decimalsOf, fixedText, numberText, signedFixedText } from '../figures/number-text.ts'
import { TrendChart } from '../figures/trend/trend-chart.tsx'
import { following } from '../figures/trend/trend-view.ts'
import { LargeDigits } from '../parts/large-digits.tsx'
import { Shape } from '../parts/quantity.tsx'
import { useRequest } from '../state/host-context.tsx'
import type { PointView } from '../state/point-view.ts'
import { BenchLoad } from './bench-load.tsx'
import { captureReady } from './capture-ready.ts'
import { ErrorAgainstTolerance } from './error-plot.tsx'
import { HandoverSheet } from './handover-sheet.tsx'
import { type Column, Weights } from './weights.tsx'

/** A quick check: zero, a known load, zero again; then what it says of the point. */
const lastSeconds = following(20_000)

export function CheckPlace({ view }: { view: PointView }) {
  const { runningCheck, lastCheck } = view
  return runningCheck ? <RunningCheck view={view} check={runningCheck} /> : <Overview view={view} check={lastCheck} />
}

function Overview({ view, check }: { view: PointView; check: QuickCheck | undefined }) {
  return (
    <div className="columns check">
      <section className="check-left">
        <StartCheck view={view} />
        <HandoverSheet point={view.point} />
        <EarlierChecks view={view} />
      </section>
      <section className="check-middle">
        {check ? <Result view={view} check={check} /> : <p className="empty-place roomy">not checked</p>}
      </section>
      <section className="plot-side">
        <h2>Error against tolerance</h2>
        <ErrorAgainstTolerance view={view} check={check} />
      </section>
    </div>
  )
}

function StartCheck({ view }: { view: PointView }) {
  const { point, indicator, visit, job } = view
  const { ask, running, failure } = useRequest('check.start')
  const written =
    visit && indicator && JSON.stringify(visit.found[indicator.id]?.values) !== JSON.stringify(visit.left[indicator.id]?.values)
  const [when, setWhen] = useState<QuickCheck['when'] | null>(null)
  const chosen = when ?? (written ? 'as-left' : 'as-found')
  return (
    <div className="group">
      <h2>Quick check of {point.tag}</h2>
      <p className="second">
        Zero, a known load, zero again.{' '}
        {point.tolerance
          ? `Judged against ± ${numberText(point.tolerance.value, job.decimalSign)} ${point.unit}${point.tolerance.why ? ` (${point.tolerance.why})` : ''}.`
          : 'Without a tolerance it gives errors but no verdict.'}
      </p>
      <fieldset className="button-row bare" aria-label="When in the visit">
        {(['as-found', 'as-left'] as const).map((w) => (
          <Button key={w} aria-pressed={chosen === w} onClick={() => setWhen(w)}>
            {w === 'as-found' ? 'As found' : 'As left'}
          </Button>
        ))}
      </fieldset>
      <div className="button-row">
        <Button variant="filled" disabled={!visit} loading={running} onClick={() => void ask({ pointId: point.id, when: chosen })}>
          Start the check
        </Button>
        {visit ? null : <span className="second">not yet: say who is at the machine first</span>}
      </div>
      {failure ? <p className="lost">{explain(failure)}</p> : null}
    </div>
  )
}

function EarlierChecks({ view }: { view: PointView }) {
  const checks = view.job.visits.flatMap((v) => v.checks).filter((c) => c.pointId === view.point.id && c.finishedAt !== undefined)
  if (checks.length < 2) return null
  return (
    <div className="group">
      <h2>Earlier checks</h2>
      <ul className="plain-list">
        {checks
          .slice(0, -1)
          .reverse()
          .map((c) => (
            <li key={c.id}>
              <span>
                {c.when.replace('-', ' ')}, {clockText(new Date(c.startedAt)).slice(0, 5)}, {dateText(new Date(c.startedAt))}
              </span>
              <span>
                <VerdictWord view={view} check={c} />
              </span>
            </li>
          ))}
      </ul>
    </div>
  )
}

function VerdictWord({ view, check }: { view: PointView; check: QuickCheck }) {
  const { verdict, worst } = judgeCheck(check, view.point)
  const size = worst ? `, ${signedFixedText(worst.intervals.valueOf(), 1, view.job.decimalSign)} d` : ''
  return (
    <span className={verdict === 'outside' ? 'attention' : ''}>
      {verdict === 'outside' ? <Shape kind="triangle" /> : null}
      {verdict === 'cannot-be-judged' ? 'not judged' : verdict}
      {size}
      {isSuperseded(view, check) ? ' · superseded' : ''}
    </span>
  )
}

function Result({ view, check }: { view: PointView; check: QuickCheck }) {
  const { point, job } = view
  const sign = job.decimalSign
  const result = judgeCheck(check, point)
  const old = isSuperseded(view, check)
  const { worst, verdict, zeroReturn } = result
  const decimals = decimalsOf(point.scaleInterval)
  return (
    <div className={old ? 'superseded' : ''}>
      <p className="second">
        {point.tag} · {check.when.replace('-', ' ')} · {dateText(new Date(check.startedAt))}{' '}
        {clockText(new Date(check.startedAt)).slice(0, 5)}, {check.by}
      </p>
      <p className={`verdict ${verdict === 'outside' ? 'attention' : ''}`}>
        {verdict === 'outside' ? <Shape kind="triangle" /> : null}
        {verdict === 'cannot-be-judged' ? 'cannot be judged' : verdict}
      </p>
      {worst ? (
        <p>
          largest error <b>{signedFixedText(worst.error.valueOf(), decimals, sign)}</b> <span className="unit">{point.unit}</span> ={' '}
          <b>{signedFixedText(worst.intervals.valueOf(), 1, sign)}</b> <span className="unit">d</span> at{' '}
          {numberText(String(worst.load.valueOf()), sign)} <span className="unit">{point.unit}</span>
        </p>
      ) : null}
      {old ? <p className="caution">Superseded: the scaling values have changed since. Check again to know what holds now.</p> : null}
      {result.reasons.map((r) => (
        <p key={r} className="second">
          {r}
        </p>
      ))}
      {zeroReturn ? (
        <p className="second">
          Zero came back to {signedFixedText(zeroReturn.valueOf(), decimals, sign)} {point.unit}.
        </p>
      ) : null}
      {result.remarks.map((r) => (
        <p key={r} className="caution small">
          {r}
        </p>
      ))}
      <details className="figures">
        <summary>Figures of the {result.steps.length} steps</summary>
        <Figures view={view} check={check} steps={result.steps} />
      </details>
    </div>
  )
}

function Figures({ view, check, steps }: { view: PointView; check: QuickCheck; steps: readonly EvaluatedStep[] }) {
  const { point, job } = view
  const sign = job.decimalSign
  const decimals = decimalsOf(point.scaleInterval)
  return (
    <table className="plain-table">
      <thead>
        <tr>
          {['load', 'reading', `error ${point.unit}`, 'in d', '% of load'].map((name) => (
            <th scope="col" key={name} className="is-right">
              {name}
            </th>
          ))}
          <th scope="col">origin</th>
        </tr>
      </thead>
      <tbody>
        {steps.map((s, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the steps of a check are known by their place
          <tr key={i}>
            <td className="is-right">{numberText(check.steps[i]?.load ?? '', sign)}</td>
            <td className="is-right">{numberText(check.steps[i]?.reading ?? '', sign)}</td>
            <td className="is-right">{signedFixedText(s.error.valueOf(), decimals, sign)}</td>
            <td className="is-right">{signedFixedText(s.intervals.valueOf(), 1, sign)}</td>
            <td className="is-right">{s.percentOfLoad ? signedFixedText(s.percentOfLoad.valueOf(), 3, sign) : '–'}</td>
            <td>{check.steps[i]?.origin}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function RunningCheck({ view, check }: { view: PointView; check: QuickCheck }) {
  const { point, job } = view
  const sign = job.decimalSign
  const capture = useRequest('check.capture')
  const finish = useRequest('check.finish')
  const [typedLoad, setTypedLoad] = useState(numberText(half(point.maximumLoad), sign))
  const loadId = useId()
  const { steps } = check
  const done = steps.length
  const parsed = parseNumber(typedLoad, sign)
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
    <div className="columns check">
      <section className="check-left">
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
              value={typedLoad}
              onChange={(event) => setTypedLoad(event.currentTarget.value)}
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
      </section>

      <section className="check-middle">
        <p className={state.tone === 'plain' ? 'second' : state.tone}>
          {point.tag} · {state.word} · {check.when.replace('-', ' ')}
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
            <TypedReading view={view} disabled={load === ''} onTake={take} />
          </>
        ) : (
          <div className="button-row">
            <Button variant="filled" loading={finish.running} onClick={() => void finish.ask({ checkId: check.id })}>
              Finish the check
            </Button>
          </div>
        )}
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
      </section>

      <section className="plot-side">
        <h2>Error against tolerance</h2>
        <ErrorAgainstTolerance view={view} check={check} />
      </section>
    </div>
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
