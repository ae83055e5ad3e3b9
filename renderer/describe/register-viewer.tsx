import { Button, NativeSelect, TextInput } from '@mantine/core'
import { type FormEvent, useEffect, useState } from 'react'
import type { Candidate } from '../../app/profile/register-view.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { parseNumber } from '../../app/quantity/parse.ts'
import { clockText } from '../figures/number-text.ts'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import { RegisterTable } from './register-table.tsx'
import { tableWords } from './shape-text.ts'
import { type Block, type Seen, useRegisters } from './use-registers.ts'

export type Choice = {
  table: Block['table']
  candidate: Candidate
  words: number[]
  display: string | undefined
  /** Other addresses that agree with the display as well. */
  others: readonly number[]
}

type Props = {
  busId: string
  unit: number
  /** Names what stands at an address where that is known. */
  profile?: Pick<Profile, 'registers' | 'channels'> | undefined
  /** Takes one understanding of an address, with what the display was said to show. */
  onChoose?: ((choice: Choice) => void) | undefined
  onSeen?: ((seen: Seen) => void) | undefined
  /** What the display shows, as typed. */
  display: string
  onDisplay: (typed: string) => void
}

const tables = (['holding', 'input', 'coil', 'discrete'] as const).map((value) => ({ value, label: tableWords[value] }))

/** Address as people type it: 12, or 0x0C. Null where it is none. */
const addressOf = (typed: string): number | null => {
  const text = typed.trim()
  const number = /^(0x[0-9a-f]+|\d+)$/i.test(text) ? Number(text) : Number.NaN
  return Number.isInteger(number) && number <= 0xffff ? number : null
}

/** Any block of registers of a unit, in every type and order side by side. Only reads. */
export function RegisterViewer({ busId, unit, profile, onChoose, onSeen, display, onDisplay }: Props) {
  const sign = useDecimalSign()
  const [table, setTable] = useState<Block['table']>('holding')
  const [from, setFrom] = useState('0')
  const [count, setCount] = useState('20')
  const [follow, setFollow] = useState(true)
  const [allOrders, setAllOrders] = useState(false)
  const { seen, failure, running, look } = useRegisters(follow)
  const first = addressOf(from)
  const number = addressOf(count)
  const wrong =
    first === null
      ? 'The first address is a whole number up to 65535, e.g. 12 or 0x0C.'
      : number === null || number < 1 || number > 500
        ? 'From 1 to 500 registers at a time.'
        : null
  const shown = display.trim() === '' ? null : parseNumber(display.trim(), sign)
  const start = (event: FormEvent) => {
    event.preventDefault()
    if (wrong === null && first !== null && number !== null) void look({ busId, unit, table, from: first, count: number })
  }
  const current = seen && seen.block.busId === busId && seen.block.unit === unit ? seen : null
  useEffect(() => {
    if (current) onSeen?.(current)
  }, [current, onSeen])

  return (
    <section className="registers" aria-label="Registers">
      <form className="registers-head" onSubmit={start}>
        <TextInput
          className="display-input"
          label="the display shows"
          placeholder="e.g. 412.6"
          value={display}
          error={shown && !shown.ok ? shown.failure.why : null}
          onChange={(event) => onDisplay(event.currentTarget.value)}
        />
        <span className="second">is looked for among</span>
        <TextInput aria-label="registers" value={count} onChange={(event) => setCount(event.currentTarget.value)} />
        <NativeSelect
          aria-label="Table"
          value={table}
          data={tables}
          onChange={(event) => setTable(tables.find((t) => t.value === event.currentTarget.value)?.value ?? 'holding')}
        />
        <TextInput label="from address" value={from} onChange={(event) => setFrom(event.currentTarget.value)} />
        <Button type="submit" loading={running} disabled={wrong !== null}>
          Look
        </Button>
      </form>
      {wrong ? <p className="lost">{wrong}</p> : null}
      {failure ? (
        <p className="lost" role="status">
          {current ? `Not renewed since ${clockText(new Date(current.at))}: ` : ''}
          {failure}
        </p>
      ) : null}
      {current ? (
        <p className="second small">
          Read at {clockText(new Date(current.at))}
          {follow ? ', again every 2 s' : ', not renewed'}.{' '}
          <button type="button" className="plain-link" onClick={() => setFollow(!follow)}>
            {follow ? 'Stop reading again' : 'Read again every 2 s'}
          </button>{' '}
          Byte orders: {allOrders ? 'all' : 'the usual ones'}.{' '}
          <button type="button" className="plain-link" onClick={() => setAllOrders(!allOrders)}>
            {allOrders ? 'Show the usual ones only' : 'Show the rare ones too'}
          </button>
        </p>
      ) : null}
      {current ? (
        <RegisterTable
          seen={current}
          display={shown?.ok ? shown.value : undefined}
          allOrders={allOrders}
          profile={profile}
          onChoose={onChoose}
          stale={failure !== null}
        />
      ) : running ? (
        <p className="second">Reading…</p>
      ) : (
        <p className="second">
          Begin with a block that the manual names, or with the first twenty. Looking only reads; a unit that has no register at an address
          says so, and that costs nothing.
        </p>
      )}
    </section>
  )
}
