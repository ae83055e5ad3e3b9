import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useId, useState } from 'react'
import { appliedWords } from '../../../app/applied-words.ts'
import { formatQuantity } from '../../../app/quantity/format.ts'
import { numberIn } from '../../../app/quantity/number-in.ts'
import { units } from '../../../app/quantity/units.ts'
import { sentence } from '../../../app/sentence.ts'
import { signalState } from '../../chain/reading-text.ts'
import { numberText } from '../../figures/number-text.ts'
import { Failed } from '../../parts/failed.tsx'
import { useRequest, useTopic } from '../../state/host-context.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointChoice } from '../../state/use-point-edit.ts'

/** Signals at known loads or pressures, taken while steady; two or more give a line of their own. */
export function MeasuredLoads({ view }: { view: PointView }) {
  const { point, job, live } = view
  const sign = job.decimalSign
  const id = useId()
  const { put, running, failure } = usePointChoice(point.id)
  const revision = useTopic('job')?.revision ?? 0
  const measure = useRequest('point.measure-load')
  const [typed, setTyped] = useState('')
  const [wrong, setWrong] = useState<string | null>(null)
  const loads = point.measured.loads ?? []
  const words = appliedWords(point)
  const signal = signalState(view)
  const steady = live?.state === 'fresh' && live.steady && live.sample.signalOrigin === 'measured'
  const replace = (next: typeof loads) => put({ measured: { ...point.measured, loads: next } })
  const take = (event: FormEvent) => {
    event.preventDefault()
    const load = numberIn(point.unit, typed, sign)
    if (!load.ok) return setWrong(load.failure.why)
    setWrong(null)
    void measure.ask({ pointId: point.id, revision, load: load.value }).then((taken) => {
      if (taken.ok) setTyped('')
    })
  }
  return (
    <details className="figures" open={point.scalingFrom === 'measured-loads'}>
      <summary>
        Signals at known {words.quantity}s{loads.length > 0 ? `, ${loads.length} taken` : ''}
      </summary>
      {loads.length > 0 ? (
        <ul className="plain-list">
          {loads.map((l, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a taken load is known by its place in the list
            <li key={i}>
              <span>
                {numberText(l.load.value, sign)} <span className="unit">{units[l.load.unit].symbol}</span>
              </span>
              <span>
                {numberText(l.signal.value, sign)} <span className="unit">{units[l.signal.unit].symbol}</span>
                {l.excitation ? (
                  <span className="second small"> at {formatQuantity(l.excitation.value, l.excitation.unit, sign)}</span>
                ) : null}{' '}
                <Button size="compact-sm" loading={running} onClick={() => replace(loads.filter((_, at) => at !== i))}>
                  Take out
                </Button>
              </span>
            </li>
          ))}
        </ul>
      ) : null}
      <form className="command" onSubmit={take}>
        <label htmlFor={id} className="nowrap">
          {sentence(words.quantity)} on now
        </label>
        <TextInput
          id={id}
          className="short-input"
          value={typed}
          error={wrong}
          autoComplete="off"
          rightSection={<span className="unit">{point.unit}</span>}
          onChange={(event) => setTyped(event.currentTarget.value)}
        />
        <Button type="submit" disabled={!steady || typed.trim() === ''} loading={measure.running}>
          Take the signal
        </Button>
      </form>
      <p className="second small">
        {steady ? `steady at ${numberText(signal?.text ?? '', sign)} ${signal?.unit}` : 'not now: needs a steady measured signal'}.{' '}
        {words.caution}
      </p>
      <Failed of={measure.failure ?? failure} />
    </details>
  )
}
