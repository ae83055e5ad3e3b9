import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useId, useState } from 'react'
import { parseNumber } from '../../app/quantity/parse.ts'
import type { PointView } from '../state/point-view.ts'

/** For an indicator that cannot be read now: its display is typed. */
export function TypedReading({ view, disabled, onTake }: { view: PointView; disabled: boolean; onTake: (typed: string) => void }) {
  const id = useId()
  const [typed, setTyped] = useState('')
  const [wrong, setWrong] = useState<string | null>(null)
  const take = (event: FormEvent) => {
    event.preventDefault()
    const value = parseNumber(typed, view.job.decimalSign)
    if (!value.ok) return setWrong(value.failure.why)
    setWrong(null)
    setTyped('')
    onTake(value.value)
  }
  return (
    <details className="figures">
      <summary>Type the reading instead</summary>
      <form className="command" onSubmit={take}>
        <label htmlFor={id} className="nowrap">
          As on the display
        </label>
        <TextInput
          id={id}
          className="short-input"
          value={typed}
          error={wrong}
          autoComplete="off"
          rightSection={<span className="unit">{view.point.unit}</span>}
          onChange={(event) => setTyped(event.currentTarget.value)}
        />
        <Button type="submit" disabled={disabled || typed.trim() === ''}>
          Take it as typed
        </Button>
      </form>
    </details>
  )
}
