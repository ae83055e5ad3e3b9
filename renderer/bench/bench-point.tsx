import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { Point } from '../../app/job/schema.ts'
import { numberIn } from '../../app/quantity/number-in.ts'
import { units } from '../../app/quantity/units.ts'
import { explain } from '../figures/explain.ts'
import { numberText } from '../figures/number-text.ts'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import { Quantity } from '../parts/quantity.tsx'
import { useRequest } from '../state/host-context.tsx'
import { weightSet, withWeights } from './weight-set.ts'

/** One point of the bench: weights put on and off, or any load or pressure typed. */
export function BenchPoint({ point, now }: { point: Point; now: string | undefined }) {
  const sign = useDecimalSign()
  const { ask, running, failure } = useRequest('practice.load')
  const [typed, setTyped] = useState('')
  const [wrong, setWrong] = useState<string | null>(null)
  const pressure = units[point.unit].dimension === 'pressure'
  const { each, count } = weightSet(point.maximumLoad)
  const load = now ?? '0'
  const on = Math.floor(Number(load) / Number(each) + 1e-9)
  const put = (next: string) => {
    setWrong(null)
    void ask({ pointId: point.id, load: next })
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    const read = numberIn(point.unit, typed, sign)
    if (!read.ok) return setWrong(read.failure.why)
    setTyped('')
    put(read.value)
  }
  const symbol = units[point.unit].symbol
  const oneWeight = `${numberText(each, sign)} ${symbol}`
  return (
    <li className="bench-point">
      <span className="bench-name">
        <b>{point.tag}</b> <span className="second">{point.name}</span>
      </span>
      <span className="bench-now" role="status">
        <Quantity value={load} unit={symbol} />
      </span>
      {pressure ? (
        <Button disabled={running || Number(load) === 0} onClick={() => put('0')}>
          Vent
        </Button>
      ) : (
        <span className="bench-weights">
          <WeightRow on={Math.max(0, on)} count={count} />
          <Button
            disabled={running || Number(load) <= 0}
            aria-label={`${point.tag}: take a weight of ${oneWeight} off`}
            onClick={() => put(withWeights(load, each, -1))}
          >
            Off
          </Button>
          <Button
            disabled={running || on >= count}
            aria-label={`${point.tag}: put a weight of ${oneWeight} on`}
            onClick={() => put(withWeights(load, each, 1))}
          >
            {oneWeight} on
          </Button>
        </span>
      )}
      <form className="bench-typed" onSubmit={submit}>
        <TextInput
          aria-label={`${point.tag}: ${pressure ? 'pressure' : 'load'} on the bench, ${symbol}`}
          placeholder={pressure ? 'pressure' : 'any load'}
          value={typed}
          autoComplete="off"
          rightSection={<span className="unit">{symbol}</span>}
          onChange={(event) => setTyped(event.currentTarget.value)}
        />
        <Button type="submit" loading={running} disabled={typed.trim() === ''}>
          {pressure ? 'Set it' : 'Put it on'}
        </Button>
      </form>
      {wrong || failure ? (
        <span className="lost bench-trouble" role="alert">
          {wrong ?? (failure ? explain(failure) : '')}
        </span>
      ) : null}
    </li>
  )
}

function WeightRow({ on, count }: { on: number; count: number }) {
  return (
    <span className="weight-row" aria-hidden="true">
      {Array.from({ length: count }, (_, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: equal weights, told apart by their place alone
        <span key={i} className={i < on ? 'is-on' : ''} />
      ))}
    </span>
  )
}
