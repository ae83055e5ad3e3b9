import { Button } from '@mantine/core'
import { Shape } from '../parts/quantity.tsx'
import { dismissRun, endAfterThis, type Run, runs, type Step } from './runs.ts'

/** Progress of actions on several points, and how they ended, until somebody dismisses it. */
export function RunResults() {
  return runs.use().map((run) => <RunResult key={run.id} run={run} />)
}

function RunResult({ run }: { run: Run }) {
  const done = run.steps.filter((s) => s.state !== 'queued' && s.state !== 'running').length
  const failed = run.steps.filter((s) => s.state === 'failed').length
  return (
    <section className="run" aria-label={run.title}>
      <div className="run-head" role="status">
        <h2>{run.title}</h2>
        <span className={failed > 0 ? 'lost' : 'second'}>
          {run.ended ? ended(run) : `${done} of ${run.steps.length} ended${run.ending ? ', the rest is left out' : ''}`}
        </span>
        <span className="spring" />
        {run.ended ? (
          <Button onClick={() => dismissRun(run.id)}>Dismiss</Button>
        ) : (
          <Button disabled={run.ending} onClick={() => endAfterThis(run.id)}>
            Leave out the rest
          </Button>
        )}
      </div>
      <ul className="run-steps">
        {run.steps.map((step) => (
          <RunStep key={step.key} step={step} />
        ))}
      </ul>
    </section>
  )
}

const tones: Record<Step['state'], string> = {
  queued: 'second',
  running: '',
  done: '',
  look: 'attention',
  failed: 'lost',
  'left-out': 'second',
}

function RunStep({ step }: { step: Step }) {
  return (
    <li>
      <b>{step.tag}</b>{' '}
      <span className={tones[step.state]}>
        {step.state === 'failed' ? <Shape kind="square" /> : step.state === 'look' ? <Shape kind="triangle" /> : null}
        {step.says}
      </span>
    </li>
  )
}

function ended(run: Run): string {
  const count = (state: Step['state']) => run.steps.filter((s) => s.state === state).length
  const parts = [
    count('done') > 0 ? `${count('done')} done` : null,
    count('look') > 0 ? `${count('look')} to look at` : null,
    count('failed') > 0 ? `${count('failed')} failed` : null,
    count('left-out') > 0 ? `${count('left-out')} not started` : null,
  ]
  return parts.filter((p) => p !== null).join(', ')
}
