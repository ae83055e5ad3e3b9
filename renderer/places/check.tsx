import { Button, TextInput } from '@mantine/core'
import { useState } from 'react'
import { appliedWords } from '../../app/applied-words.ts'
import { changedInVisit } from '../../app/job/changed-in-visit.ts'
import type { QuickCheck } from '../../app/job/schema.ts'
import { plusMinus } from '../../app/quantity/format.ts'
import { sentence } from '../../app/sentence.ts'
import { numberText } from '../figures/number-text.ts'
import { Failed } from '../parts/failed.tsx'
import { Scroller } from '../parts/scroller.tsx'
import { useRequest } from '../state/host-context.tsx'
import type { PointView } from '../state/point-view.ts'
import { Term } from '../terms/term.tsx'
import { EarlierChecks, Result } from './check-result.tsx'
import { ErrorAgainstTolerance } from './error-plot.tsx'
import { HandoverSheet } from './handover-sheet.tsx'
import { RunningCheck } from './running-check.tsx'

/** A quick check: nothing, something known, nothing again; then what it says of the point. */
export function CheckPlace({ view }: { view: PointView }) {
  const { runningCheck, lastCheck } = view
  return (
    <div className="columns check">
      {runningCheck ? <RunningCheck view={view} check={runningCheck} /> : <Overview view={view} check={lastCheck} />}
      <section className="plot-side">
        <h2>
          Error against <Term of="tolerance">tolerance</Term>
        </h2>
        <ErrorAgainstTolerance view={view} check={runningCheck ?? lastCheck} />
      </section>
    </div>
  )
}

function Overview({ view, check }: { view: PointView; check: QuickCheck | undefined }) {
  return (
    <>
      <Scroller className="check-left">
        <StartCheck view={view} />
        <HandoverSheet point={view.point} />
        <EarlierChecks view={view} />
      </Scroller>
      <Scroller className="check-middle">
        {check ? <Result view={view} check={check} /> : <p className="empty-place roomy">not checked</p>}
      </Scroller>
    </>
  )
}

function StartCheck({ view }: { view: PointView }) {
  const { point, indicator, visit, job } = view
  const { ask, running, failure } = useRequest('check.start')
  const changed = changedInVisit(visit, indicator?.id)
  const [when, setWhen] = useState<QuickCheck['when'] | null>(null)
  const said = visit?.checks.findLast((c) => c.unit === point.unit && c.standards !== undefined)?.standards ?? ''
  const [typed, setTyped] = useState<string | null>(null)
  const standards = typed ?? said
  const chosen = changed ? 'as-left' : (when ?? 'as-found')
  return (
    <div className="group">
      <h2>
        <Term of="quick check">Quick check</Term> of {point.tag}
      </h2>
      <p className="second">
        {pattern(view.point)}{' '}
        {point.tolerance
          ? `Judged against ${plusMinus(numberText(point.tolerance.value, job.decimalSign))} ${point.unit}${point.tolerance.why ? ` (${point.tolerance.why})` : ''}.`
          : 'Without a tolerance it gives errors but no verdict.'}
      </p>
      <fieldset className="button-row bare" aria-label="When in the visit">
        {(['as-found', 'as-left'] as const).map((w) => (
          <Button key={w} aria-pressed={chosen === w} disabled={changed && w === 'as-found'} onClick={() => setWhen(w)}>
            {w === 'as-found' ? 'As found' : 'As left'}
          </Button>
        ))}
      </fieldset>
      {changed ? <p className="second small">Its settings are no longer those found at the start of this visit.</p> : null}
      <TextInput
        label={`${appliedWords(point).standards}, for the sheet`}
        placeholder="set, serial or certificate number"
        autoComplete="off"
        maxLength={200}
        value={standards}
        onChange={(event) => setTyped(event.currentTarget.value)}
      />
      <div className="button-row">
        <Button
          variant="filled"
          disabled={!visit}
          loading={running}
          onClick={() => void ask({ pointId: point.id, when: chosen, standards })}
        >
          Start the check
        </Button>
        {visit ? null : <span className="second">not yet: say who is at the machine first</span>}
      </div>
      <Failed of={failure} />
    </div>
  )
}

/** "Unloaded, a known load, unloaded again." */
function pattern(point: PointView['point']): string {
  const { steps, known } = appliedWords(point)
  return `${sentence(steps[0])}, a ${known}, ${steps[2]}.`
}
