import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useId, useState } from 'react'
import { appliedKind, appliedWords } from '../../app/applied-words.ts'
import type { QuickCheck } from '../../app/job/schema.ts'
import { parseNumber } from '../../app/quantity/parse.ts'
import { units } from '../../app/quantity/units.ts'
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

type Kept = { checkId: string; step: number; typed: string }
/** The amount that somebody typed for a step of the check under way; it must not become another one by loading the page again. */
const typedAmount = keptState<Kept | null>('check-load', null, withKeys<Kept>('checkId', 'step', 'typed'))

/**
 * What the three steps apply, in the point's unit, and what the field of the step under way shows; undefined where its amount is not
 * typed but known: nought. An absolute transducer has no nought: its first step is at air pressure by a barometer, which is typed.
 */
function useAmounts(view: PointView, check: QuickCheck) {
  const { point, job, applied } = view
  const { steps, id } = check
  const sign = job.decimalSign
  const done = steps.length
  const kept = typedAmount.use()
  const absolute = appliedKind(point) === 'absolute'
  const suggested = () => {
    if (applied && Number(applied.load) !== Number(steps[0]?.load ?? 0)) return numberText(applied.load, sign)
    return done === 0 ? '' : numberText(half(point.maximumLoad), sign)
  }
  const field = done === 1 || (done === 0 && absolute) ? (kept?.checkId === id && kept.step === done ? kept.typed : suggested()) : undefined
  const parsed = field === undefined ? undefined : parseNumber(field, sign)
  const typed = parsed?.ok ? parsed.value : ''
  const base = absolute ? (steps[0]?.load ?? typed) : '0'
  const amounts = [base, steps[1]?.load ?? (done === 1 ? typed : ''), base] as const
  return {
    amounts,
    amount: amounts[done] ?? '',
    field,
    wrong: parsed && !parsed.ok && field !== '' ? parsed.failure.why : null,
    type: (text: string) => typedAmount.set({ checkId: id, step: done, typed: text }),
  }
}

/** The guided run: put the load on, watch it settle, take the reading. */
export function RunningCheck({ view, check }: { view: PointView; check: QuickCheck }) {
  const { point, job } = view
  const sign = job.decimalSign
  const words = appliedWords(point)
  const capture = useRequest('check.capture')
  const finish = useRequest('check.finish')
  const { amounts, amount, field, wrong, type } = useAmounts(view, check)
  const done = check.steps.length
  const ready = amount === '' ? { armed: false, says: `Type the ${words.quantity} first.` } : captureReady(view, amount, check.steps.at(-1))
  const beyond = field !== undefined && Number(amount) > Number(point.maximumLoad)
  const columns: Column[] = amounts.map((l, i) => ({ load: l, state: i < done ? 'taken' : i === done ? 'now' : 'to come' }))
  const state = readingState(view)
  const takenAt =
    field === undefined && Number(amount) === 0 ? words.steps[0] : `at ${numberText(amount || '0', sign)} ${units[point.unit].symbol}`
  const take = (typed?: string) => void capture.ask({ checkId: check.id, load: amount, ...(typed === undefined ? {} : { typed }) })

  return (
    <>
      <Scroller className="check-left">
        <h2>{done < 3 ? `Step ${done + 1} of 3, ${words.steps[done]}` : 'All three taken'}</h2>
        {field === undefined ? (
          <p className="instruction">{words.instructions[done] ?? 'Finish to get the verdict'}</p>
        ) : (
          <AmountField
            label={words.instructions[done] ?? ''}
            unit={units[point.unit].symbol}
            value={field}
            error={wrong ?? (beyond ? `beyond ${words.maximum}` : null)}
            onType={type}
          />
        )}
        <Weights columns={columns} unit={units[point.unit].symbol} nothing={words.nothing} />
        {job.simulated && done < 3 ? <BenchLoad key={done} view={view} {...(amount === '' ? {} : { suggest: amount })} /> : null}
        <p className="caution">{words.caution}</p>
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
              <Button variant="filled" disabled={!ready.armed || beyond} loading={capture.running} onClick={() => take()}>
                Take the reading {takenAt}
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
          {done < 3 ? <TypedReading view={view} disabled={amount === '' || beyond} onTake={take} /> : null}
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

function AmountField(props: { label: string; unit: string; value: string; error: string | null; onType: (text: string) => void }) {
  const id = useId()
  return (
    <div className="group">
      <label className="second" htmlFor={id}>
        {props.label}
      </label>
      <TextInput
        id={id}
        className="load-input"
        value={props.value}
        autoComplete="off"
        onChange={(event) => props.onType(event.currentTarget.value)}
        rightSection={<span className="unit">{props.unit}</span>}
        error={props.error}
      />
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
