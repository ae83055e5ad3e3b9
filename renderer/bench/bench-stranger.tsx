import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { BenchUnitSeen } from '../../app/contract/practice-calls.ts'
import { parseNumber } from '../../app/quantity/parse.ts'
import { explain } from '../figures/explain.ts'
import { numberText } from '../figures/number-text.ts'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import { useRequest } from '../state/host-context.tsx'

type Seen = BenchUnitSeen['channels'][number]

/** What stands on the displays of a unit, dashes where there is no value. */
export function Displays({ channels }: { channels: readonly Seen[] }) {
  const sign = useDecimalSign()
  return (
    <span className="bench-displays">
      {channels.map(({ channel, shows, unit }) => (
        <span key={channel} className="nowrap">
          {channels.length > 1 ? <span className="second">{channel}: </span> : null}
          <span className="bench-display">{shows === null ? '- - - -' : numberText(shows, sign)}</span>
          {unit === null ? null : <span className="unit"> {unit}</span>}
        </span>
      ))}
    </span>
  )
}

/** A unit that hangs on a line of the bench and is not in the job: its displays, and a load on each of its inputs. */
export function BenchStranger({ seen }: { seen: BenchUnitSeen }) {
  return (
    <li>
      <span className="bench-name">
        Unit {seen.unit} <span className="second">not in this job</span>
      </span>
      <Displays channels={seen.channels} />
      {seen.channels.map((channel) => (
        <LoadOn key={channel.channel} seen={seen} input={channel} />
      ))}
    </li>
  )
}

function LoadOn({ seen, input }: { seen: BenchUnitSeen; input: Seen }) {
  const sign = useDecimalSign()
  const { ask, running, failure } = useRequest('practice.load-unit')
  const [typed, setTyped] = useState('')
  const [wrong, setWrong] = useState<string | null>(null)
  const submit = (event: FormEvent) => {
    event.preventDefault()
    const read = parseNumber(typed, sign)
    setWrong(read.ok ? null : read.failure.why)
    if (!read.ok) return
    setTyped('')
    void ask({ busId: seen.busId, unit: seen.unit, channel: input.channel, load: read.value })
  }
  const trouble = wrong ?? (failure ? explain(failure) : null)
  return (
    <form className="bench-typed" onSubmit={submit}>
      <span className="second nowrap">
        {seen.channels.length > 1 ? `${input.channel}: ` : ''}on it {numberText(String(input.load), sign)} {input.loadUnit}
      </span>
      <TextInput
        aria-label={`Unit ${seen.unit}, input ${input.channel}: load on the bench, ${input.loadUnit}`}
        placeholder="any load"
        value={typed}
        autoComplete="off"
        rightSection={<span className="unit">{input.loadUnit}</span>}
        onChange={(event) => setTyped(event.currentTarget.value)}
      />
      <Button type="submit" loading={running} disabled={typed.trim() === ''}>
        Put it on
      </Button>
      {trouble ? (
        <span className="lost" role="alert">
          {trouble}
        </span>
      ) : null}
    </form>
  )
}
