import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useId, useState } from 'react'
import { numberIn } from '../../app/quantity/number-in.ts'
import { units } from '../../app/quantity/units.ts'
import { explain } from '../figures/explain.ts'
import { numberText } from '../figures/number-text.ts'
import { useRequest } from '../state/host-context.tsx'
import { type PointView, usePractice } from '../state/point-view.ts'

/** Puts a load on the practice bench: it acts on the simulated machine, not on the indicator. */
export function BenchLoad({ view, suggest }: { view: PointView; suggest?: string }) {
  const { point, job } = view
  const id = useId()
  const now = usePractice(point.id)
  const { ask, running, failure } = useRequest('practice.load')
  const [typed, setTyped] = useState<string | null>(null)
  const [wrong, setWrong] = useState<string | null>(null)
  if (!job.simulated) return null
  const pressure = units[point.unit].dimension === 'pressure'
  const symbol = units[point.unit].symbol
  const shown = typed ?? numberText(suggest ?? now ?? '0', job.decimalSign)
  const put = (event: FormEvent) => {
    event.preventDefault()
    const load = numberIn(point.unit, shown, job.decimalSign)
    if (!load.ok) return setWrong(load.failure.why)
    setWrong(null)
    setTyped(null)
    void ask({ pointId: point.id, load: load.value })
  }
  return (
    <section className="commands" aria-label="Practice bench">
      <h2>Acts on the practice bench</h2>
      <label className="second" htmlFor={id}>
        {pressure ? 'Pressure on the practice bench' : 'Load on the practice bench'}
      </label>
      <form className="command" onSubmit={put}>
        <TextInput
          id={id}
          value={shown}
          autoComplete="off"
          className="short-input"
          rightSection={<span className="unit">{symbol}</span>}
          onChange={(event) => setTyped(event.currentTarget.value)}
        />
        <Button type="submit" loading={running}>
          {pressure ? 'Apply it' : 'Put it on'}
        </Button>
      </form>
      <p className="second small">
        {now === undefined
          ? pressure
            ? 'No pressure is applied yet.'
            : 'Nothing is on it yet.'
          : pressure
            ? `Applied now: ${numberText(now, job.decimalSign)} ${symbol}.`
            : `On it now: ${numberText(now, job.decimalSign)} ${symbol}, besides the dead load.`}{' '}
        <span className="simulated">simulated</span>
      </p>
      {wrong || failure ? (
        <p className="lost" role="alert">
          {wrong ?? (failure ? explain(failure) : '')}
        </p>
      ) : null}
    </section>
  )
}
