import { Button, NativeSelect, Progress, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { SearchCandidate } from '../../app/contract/describe-calls.ts'
import { parseNumber } from '../../app/quantity/parse.ts'
import { numberText } from '../figures/number-text.ts'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import { Failed } from '../parts/failed.tsx'
import { useRequest, useTopic } from '../state/host-context.tsx'
import type { Choice } from './register-viewer.tsx'
import { shapeText, tableWords } from './shape-text.ts'

/** "Where is the value that the display shows?": over a range, and again under another load until one place is left. */
export function RegisterSearch(props: {
  busId: string
  unit: number
  display: string
  onDisplay: (typed: string) => void
  onChoose: (choice: Choice) => void
}) {
  const { busId, unit, display, onDisplay, onChoose } = props
  const sign = useDecimalSign()
  const view = useTopic('registerSearch', `${busId}/${unit}`)
  const first = useRequest('registers.search')
  const again = useRequest('registers.search-again')
  const cancel = useRequest('registers.cancel')
  const [table, setTable] = useState<'holding' | 'input'>('holding')
  const [from, setFrom] = useState('0')
  const [to, setTo] = useState('500')
  const number = parseNumber(display.trim(), sign)
  const [low, high] = [Number(from), Number(to)]
  const rangeFits = from !== '' && to !== '' && Number.isInteger(low) && Number.isInteger(high) && low >= 0 && high >= low && high <= 0xffff
  const running = view?.state === 'running'
  const answerMs = useTopic('bus', busId)?.answerMs
  const failure = first.failure ?? again.failure
  const mayLookAgain = view?.state === 'ended' && view.agreeing > 0
  const search = (event: FormEvent) => {
    event.preventDefault()
    if (number.ok && rangeFits) void first.ask({ busId, unit, table, from: low, to: high, display: number.value })
  }

  return (
    <section className="register-search" aria-label="Find the place that the display follows">
      <form className="registers-head" onSubmit={search}>
        <TextInput
          className="display-input"
          label="the display shows"
          placeholder="e.g. 412.6"
          value={display}
          error={display.trim() !== '' && !number.ok ? number.failure.why : null}
          onChange={(event) => onDisplay(event.currentTarget.value)}
        />
        <NativeSelect
          aria-label="Table to search"
          value={table}
          data={(['holding', 'input'] as const).map((value) => ({ value, label: tableWords[value] }))}
          onChange={(event) => setTable(event.currentTarget.value === 'input' ? 'input' : 'holding')}
        />
        <TextInput label="from" value={from} onChange={(event) => setFrom(event.currentTarget.value)} />
        <TextInput label="to" value={to} onChange={(event) => setTo(event.currentTarget.value)} />
        <Button type="submit" disabled={!number.ok || !rangeFits || running}>
          Search the range
        </Button>
        {mayLookAgain ? (
          <Button disabled={!number.ok} onClick={() => number.ok && void again.ask({ busId, unit, display: number.value })}>
            Look again under another load
          </Button>
        ) : null}
        {running ? <Button onClick={() => void cancel.ask({ busId, unit })}>Cancel</Button> : null}
      </form>
      {running ? (
        <div className="search-progress" role="status">
          <Progress value={view.of === 0 ? 0 : (100 * view.asked) / view.of} aria-label="Registers looked at" />
          <span className="second">
            {view.asked} of {view.of} registers, {view.agreeing} {view.agreeing === 1 ? 'place agrees' : 'places agree'}
            {view.leftMs === null ? '' : `; about ${lengthText(view.leftMs)} left`}
          </span>
        </div>
      ) : null}
      {rangeFits && !running && answerMs !== undefined ? <p className="second">{timeText(high - low + 1, answerMs)}</p> : null}
      <Failed of={failure} />
      {view?.state === 'failed' && !failure ? <p className="lost">{view.why}</p> : null}
      {view && !running ? <Outcome view={view} sign={sign} onChoose={onChoose} /> : null}
      {view ? null : (
        <p className="second">
          Put a load on, type what the display shows, and every place whose content equals it is listed. Look again under another load, and
          only what followed stays. Only reads.
        </p>
      )}
    </section>
  )
}

/** Most registers that one request can bring (MODBUS Application Protocol V1.1b3, 6.3). */
const longest = 125

/** A unit that has few of the registers refuses long reads: in the end each is asked for alone, after every longer piece around it. */
function timeText(count: number, answerMs: number): string {
  const [quick, slow] = [Math.ceil(count / longest) * answerMs, 2 * count * answerMs]
  const many = `${count} ${count === 1 ? 'register' : 'registers'}`
  return `${many}: about ${lengthText(quick)} where the unit has them all, up to ${lengthText(slow)} where it has few. It can be cancelled.`
}

const lengthText = (ms: number) => (ms < 90_000 ? `${Math.max(1, Math.ceil(ms / 1000))} s` : `${Math.ceil(ms / 60_000)} min`)

/** A number of three digits or more is held by chance in few registers. */
const isTelling = (display: string) => display.replace(/[^\d]/g, '').replace(/^0+/, '').length >= 3

function Outcome({
  view,
  sign,
  onChoose,
}: {
  view: { state: string; table: 'holding' | 'input'; display: string; looks: number; agreeing: number; candidates: SearchCandidate[] }
  sign: '.' | ','
  onChoose: (choice: Choice) => void
}) {
  const { agreeing, candidates, display, looks, table } = view
  const addresses = [...new Set(candidates.map((c) => c.address))]
  return (
    <>
      <p>
        {agreeing === 0 ? (
          <span className="attention">
            Nothing agrees with {numberText(display, sign)}. Another range or table, or the display moved meanwhile.
          </span>
        ) : (
          <>
            <b>
              {agreeing} {agreeing === 1 ? 'place agrees' : 'places agree'}
            </b>{' '}
            with {numberText(display, sign)} after {looks} {looks === 1 ? 'look' : 'looks'}
            {view.state === 'cancelled' ? ', cancelled before the end' : ''}.
            {agreeing > 1 ? (
              <span className="attention">
                {' '}
                {isTelling(display) ? 'Most agree by chance' : 'So short a number agrees with much by chance'}: put another load on, type
                what the display shows then, and look again.
              </span>
            ) : null}
          </>
        )}
      </p>
      {candidates.length > 0 ? (
        <ul className="candidates">
          {candidates.slice(0, 40).map((c) => (
            <li key={`${c.address} ${shapeText(c)}`}>
              <button
                type="button"
                className="plain-link"
                onClick={() =>
                  onChoose({
                    ...{ table, candidate: { ...c, decimals: c.decimals }, words: c.words, display },
                    others: addresses.filter((address) => address !== c.address),
                  })
                }
              >
                {c.address} as {shapeText(c)}
              </button>{' '}
              <span className="second">
                {numberText(c.text, sign)}
                {c.agrees === 'exact' ? '' : ', rounded'}
              </span>
            </li>
          ))}
        </ul>
      ) : null}
    </>
  )
}
