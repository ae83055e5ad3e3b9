import { Button, NativeSelect, TextInput } from '@mantine/core'
import { type FormEvent, useRef, useState } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { numberIn } from '../../app/quantity/number-in.ts'
import { parseQuantity } from '../../app/quantity/parse.ts'
import type { QuantityText } from '../../app/quantity/quantity-text.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { explain } from '../figures/explain.ts'
import { useRequest } from '../state/host-context.tsx'
import { type ChannelChoice, channelsFor } from './free-channels.ts'

type Typed = { tag: string; name: string; maximum: string; interval: string; on: string }

/** One point by hand: what it is called, what it may carry, and on which channel it hangs. The rest is filled in at its places. */
export function AddPoint({ job }: { job: Job }) {
  const { ask, running, failure } = useRequest('point.add')
  const free = channelsFor(job)
  const fresh = (): Typed => ({ tag: '', name: '', maximum: '', interval: '', on: free[0]?.value ?? '' })
  const [typed, setTyped] = useState(fresh)
  const [problem, setProblem] = useState<string | null>(null)
  const [added, setAdded] = useState<string | null>(null)
  const first = useRef<HTMLInputElement>(null)
  const set = (change: Partial<Typed>) => {
    setTyped((now) => ({ ...now, ...change }))
    setProblem(null)
    setAdded(null)
  }

  const add = async (event: FormEvent) => {
    event.preventDefault()
    const loads = loadsOf(typed, job)
    if (!typed.tag.trim()) return setProblem('A point needs a tag, e.g. WT-101.')
    if (!loads.ok) return setProblem(loads.failure)
    const { maximum, scaleInterval } = loads.value
    const [indicatorId, channel] = typed.on.split(' ')
    const answer = await ask({
      revision: job.revision,
      point: {
        tag: typed.tag.trim(),
        name: typed.name.trim(),
        unit: maximum.unit,
        maximumLoad: maximum.value,
        scaleInterval,
        loadPath: { sharePercent: '100' },
        sensors: { certificates: [], trimmed: false },
        wiring: {},
        measured: {},
        channel: Number(channel ?? '1'),
        ...(indicatorId ? { indicatorId } : {}),
      },
    })
    if (!answer.ok) return
    setAdded(typed.tag.trim())
    setTyped((now) => ({ ...fresh(), maximum: now.maximum, interval: now.interval, on: nextFree(free, now.on) }))
    first.current?.focus()
  }

  return (
    <form className="stacked" onSubmit={add}>
      <div className="field-row">
        <TextInput ref={first} label="Tag" value={typed.tag} maxLength={40} onChange={(e) => set({ tag: e.currentTarget.value })} />
        <TextInput label="Name" value={typed.name} maxLength={400} onChange={(e) => set({ name: e.currentTarget.value })} />
        <TextInput
          label="Maximum load, with unit"
          placeholder="1200 kg"
          value={typed.maximum}
          onChange={(e) => set({ maximum: e.currentTarget.value })}
        />
        <TextInput
          label="Scale interval d"
          placeholder="e.g. 1"
          value={typed.interval}
          onChange={(e) => set({ interval: e.currentTarget.value })}
        />
        <NativeSelect
          label="Indicator and channel"
          value={typed.on}
          data={[...free, { value: '', label: 'none yet' }]}
          onChange={(e) => set({ on: e.currentTarget.value })}
        />
        <Button type="submit" loading={running} className="in-field-row">
          Add this point
        </Button>
      </div>
      {(problem ?? failure) ? (
        <p className="lost" role="alert">
          {problem ?? (failure ? explain(failure) : '')}
        </p>
      ) : added ? (
        <p role="status">
          <b>{added}</b> is added. Its sensors are the next thing to fill in.
        </p>
      ) : null}
    </form>
  )
}

function loadsOf(typed: Typed, { decimalSign }: Job): Result<{ maximum: QuantityText; scaleInterval: string }, string> {
  const maximum = parseQuantity(typed.maximum, { decimalSign, dimensions: ['mass', 'force', 'pressure', 'torque'] })
  if (!maximum.ok) return fail(`Maximum load: ${maximum.failure.why}`)
  const interval = numberIn(maximum.value.unit, typed.interval, decimalSign)
  return interval.ok ? ok({ maximum: maximum.value, scaleInterval: interval.value }) : fail(`Scale interval: ${interval.failure.why}`)
}

const nextFree = (free: readonly ChannelChoice[], taken: string) => free.find((f) => f.value !== taken)?.value ?? ''
