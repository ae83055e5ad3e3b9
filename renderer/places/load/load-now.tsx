import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useId, useState } from 'react'
import { numberIn } from '../../../app/quantity/number-in.ts'
import { units } from '../../../app/quantity/units.ts'
import { clockText, numberText } from '../../figures/number-text.ts'
import { Failed } from '../../parts/failed.tsx'
import { useRequest, useTopic } from '../../state/host-context.tsx'
import type { PointView } from '../../state/point-view.ts'

/** What is on the point now, as somebody knows it: from it every place of the chain tells what it expects. */
export function LoadNow({ view }: { view: PointView }) {
  const { point, job, applied } = view
  const session = useTopic('session')
  const id = useId()
  const { ask, running, failure } = useRequest('load.tell')
  const [typed, setTyped] = useState<string | null>(null)
  const [wrong, setWrong] = useState<string | null>(null)
  const pressure = units[point.unit].dimension === 'pressure'
  const absolute = point.loadPath.pressure === 'absolute'
  const empty = applied !== undefined && Number(applied.load) === 0 && !absolute
  const tell = (load: string | null) => {
    setTyped(null)
    setWrong(null)
    void ask({ pointId: point.id, load })
  }
  const take = (event: FormEvent) => {
    event.preventDefault()
    const load = numberIn(point.unit, typed ?? '', job.decimalSign)
    if (!load.ok) return setWrong(load.failure.why)
    tell(load.value)
  }
  return (
    <div className="group">
      <fieldset className="button-row bare" aria-label={pressure ? 'Pressure applied now' : 'What is on it now'}>
        <Button aria-pressed={!applied} loading={running} onClick={() => tell(null)}>
          Unknown
        </Button>
        <Button aria-pressed={empty} disabled={absolute} loading={running} onClick={() => tell('0')}>
          {pressure ? 'Vented' : 'Empty'}
        </Button>
        <form className="command" onSubmit={take}>
          <TextInput
            id={id}
            aria-label={pressure ? 'Pressure applied' : 'Load on it now'}
            className="short-input"
            placeholder="amount"
            autoComplete="off"
            value={typed ?? (applied && !empty ? numberText(applied.load, job.decimalSign) : '')}
            error={wrong}
            rightSection={<span className="unit">{units[point.unit].symbol}</span>}
            onChange={(event) => {
              setTyped(event.currentTarget.value)
              setWrong(null)
            }}
          />
          <Button type="submit" disabled={typed === null || typed.trim() === ''}>
            {pressure ? 'This pressure is applied' : 'This load is on'}
          </Button>
        </form>
      </fieldset>
      <p className="second small">
        {applied
          ? `${numberText(applied.load, job.decimalSign)} ${units[point.unit].symbol}, typed at ${clockText(new Date(Date.parse(session?.anchor ?? '') + applied.at)).slice(0, 5)}${pressure ? '' : ', besides the dead load'}; not kept in the job. `
          : `${pressure ? '' : 'Besides the dead load. '}Once it is known, every place of the chain tells what it expects and by how much it is off. `}
        {absolute ? 'A vented absolute sensor reads the air: type its pressure.' : ''}
      </p>
      <Failed of={failure} />
    </div>
  )
}
