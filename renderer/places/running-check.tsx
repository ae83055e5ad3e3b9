import { Button, TextInput } from '@mantine/core'
import { useId } from 'react'
import { appliedWords } from '../../app/applied-words.ts'
import type { QuickCheck } from '../../app/job/schema.ts'
import { exact } from '../../app/quantity/exact.ts'
import { units } from '../../app/quantity/units.ts'
import { readingState } from '../chain/reading-text.ts'
import { scalingDoubt } from '../chain/scaling-doubt.ts'
import { numberText } from '../figures/number-text.ts'
import { TrendChart } from '../figures/trend/trend-chart.tsx'
import { following } from '../figures/trend/trend-view.ts'
import { Failed } from '../parts/failed.tsx'
import { LargeDigits } from '../parts/large-digits.tsx'
import { ScalingInDoubt } from '../parts/scaling-in-doubt.tsx'
import { Scroller } from '../parts/scroller.tsx'
import { useRequest } from '../state/host-context.tsx'
import type { PointView } from '../state/point-view.ts'
import { BenchLoad } from './bench-load.tsx'
import { captureReady } from './capture-ready.ts'
import { useAmounts } from './check-amounts.ts'
import { TakeReading } from './take-reading.tsx'
import { TypedReading } from './typed-reading.tsx'
import { type Column, Weights } from './weights.tsx'

const lastSeconds = following(20_000)

/** The guided run: put the load on, watch it settle, take the reading. */
export function RunningCheck({ view, check }: { view: PointView; check: QuickCheck }) {
  const { point, job } = view
  const sign = job.decimalSign
  const words = appliedWords(point)
  const capture = useRequest('check.capture')
  const takeBack = useRequest('check.take-back')
  const finish = useRequest('check.finish')
  const { amounts, amount, field, wrong, type } = useAmounts(view, check)
  const done = check.steps.length
  const ready =
    amount === ''
      ? { armed: false, near: false, says: `Type the ${words.quantity} first.` }
      : captureReady(view, amount, check.steps.at(-1))
  const unfit = field === undefined || amount === '' ? null : whyUnfit(amount, view, check)
  const columns: Column[] = amounts.map((l, i) => ({ load: l, state: i < done ? 'taken' : i === done ? 'now' : 'to come' }))
  const state = readingState(view)
  const takenAt =
    amount === ''
      ? ''
      : field === undefined && Number(amount) === 0
        ? words.steps[0]
        : `at ${numberText(amount, sign)} ${units[point.unit].symbol}`
  const tolerance = point.tolerance ? Number(point.tolerance.value) : undefined
  const limits = tolerance === undefined || amount === '' || done > 2 ? [] : [Number(amount) - tolerance, Number(amount) + tolerance]
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
            error={wrong ?? unfit}
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
          <TakeReading step={done} ready={ready} disabled={unfit !== null} at={takenAt} running={capture.running} onTake={() => take()} />
        ) : (
          <div className="button-row">
            <Button variant="filled" loading={finish.running} onClick={() => void finish.ask({ checkId: check.id })}>
              Finish the check
            </Button>
          </div>
        )}
        <Scroller>
          {done < 3 ? <TypedReading view={view} disabled={amount === '' || unfit !== null} onTake={take} /> : null}
          <p className="link-row">
            {done > 0 ? (
              <button type="button" className="plain-link" onClick={() => void takeBack.ask({ checkId: check.id })}>
                Take step {done} back and do it again
              </button>
            ) : null}
            {done < 3 ? (
              <button type="button" className="plain-link" onClick={() => void finish.ask({ checkId: check.id })}>
                {done > 0 || check.takenBack ? 'End here, without a verdict' : 'Leave it, nothing was taken'}
              </button>
            ) : null}
          </p>
          <Failed of={capture.failure ?? takeBack.failure ?? finish.failure} />
          <div className="settling">
            <TrendChart
              traces={[{ pointId: point.id, label: point.tag, colour: 1, quantity: 'reading' }]}
              unit={point.unit}
              view={lastSeconds}
              leastSpan={Number(point.scaleInterval) * 10}
              limits={limits}
              time="relative"
              label={`Reading of ${point.tag} over the last 20 seconds`}
            />
          </div>
        </Scroller>
      </section>
    </>
  )
}

/** Why an amount cannot be applied in this step; null where it can. What is as much as in the first step tells nothing of the span. */
function whyUnfit(amount: string, { point }: PointView, { steps }: QuickCheck): string | null {
  const { maximum, known } = appliedWords(point)
  const [first] = steps
  if (exact(amount).gt(exact(point.maximumLoad))) return `beyond ${maximum}`
  return first && exact(amount).equals(exact(first.load)) ? `as in step 1: type the ${known} that is put on` : null
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
