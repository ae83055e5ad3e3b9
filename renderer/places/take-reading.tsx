import { Button, Checkbox } from '@mantine/core'
import { useEffect, useRef } from 'react'
import { keptState, oneOf } from '../state/kept-state.ts'
import type { Readiness } from './capture-ready.ts'

/** Both hands are at the weights: readings take themselves. */
const byItself = keptState('take-by-itself', false, oneOf(true, false))

/** What counts as steady has stood for two seconds; it stands for so much longer before nobody is asked, in ms. */
const furtherMs = 3_000

/** Takes the reading of a step: by the button, by its key, or by itself once it stands steady near what is on. */
export function TakeReading(props: {
  ready: Readiness
  disabled: boolean
  running: boolean
  step: number
  /** "at 500 kg", "unloaded". */
  at: string
  onTake: () => void
}) {
  const { ready, disabled, running, step, at } = props
  const alone = byItself.use()
  const take = useRef(props.onTake)
  take.current = props.onTake
  const goes = alone && ready.armed && ready.near && !disabled && !running
  // biome-ignore lint/correctness/useExhaustiveDependencies: each step waits anew, and so does another amount
  useEffect(() => {
    if (!goes) return
    const timer = setTimeout(() => take.current(), furtherMs)
    return () => clearTimeout(timer)
  }, [goes, step, at])
  return (
    <>
      <p className="ready" role="status">
        {says(ready, alone)}
      </p>
      <div className="button-row">
        <Button variant="filled" className="take-reading" disabled={!ready.armed || disabled} loading={running} onClick={props.onTake}>
          Take the reading {at}
          <span className="key" aria-hidden="true">
            T
          </span>
        </Button>
        <Checkbox label="by itself, once steady" checked={alone} onChange={(event) => byItself.set(event.currentTarget.checked)} />
      </div>
    </>
  )
}

const says = ({ near, says }: Readiness, alone: boolean): string =>
  near && alone ? 'Steady; it is taken once it has stood for 5 s.' : says
