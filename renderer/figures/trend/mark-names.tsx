import { Button, TextInput } from '@mantine/core'
import { clockText } from '../number-text.ts'
import { nameMark, removeMark } from './marks.ts'
import type { Mark } from './trace.ts'

/** Longer than this a name covers the curves. */
const longestName = 24

/** The marks by their times, each with the name that stands beside its line. Without one, the time is its name. */
export function MarkNames({ marks, anchor, onDone }: { marks: readonly Mark[]; anchor: number; onDone: () => void }) {
  return (
    <fieldset className="mark-names" aria-label="Marks">
      {marks.map(({ at, label }) => {
        const time = clockText(new Date(anchor + at))
        return (
          <span key={at} className="mark-name">
            <span className="second">{time}</span>
            <TextInput
              aria-label={`Name of the mark at ${time}`}
              placeholder="name"
              maxLength={longestName}
              value={label === time ? '' : label}
              onChange={(event) => nameMark(at, event.currentTarget.value.trimStart() || time)}
            />
            <Button aria-label={`Remove the mark at ${time}`} onClick={() => removeMark(at)}>
              Remove
            </Button>
          </span>
        )
      })}
      <Button onClick={onDone}>Done</Button>
    </fieldset>
  )
}
