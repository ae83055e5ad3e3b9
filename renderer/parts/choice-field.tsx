import { NativeSelect } from '@mantine/core'
import { type ReactNode, useId } from 'react'
import { Labelled } from '../terms/labelled.tsx'
import type { TermName } from '../terms/terms.ts'

/** One of a few words; the empty value stands for what is not stated. */
export function ChoiceField<T extends string>(props: {
  label: string
  term?: TermName | undefined
  value: T | ''
  options: readonly { value: T | ''; label: string }[]
  /** What is offered last, under a heading of its own. */
  apart?: { heading: string; options: readonly { value: T; label: string }[] } | undefined
  onChoose: (value: T | '') => void
  beside?: ReactNode
  bare?: boolean
  /** Label above the field, for long choices. */
  stacked?: boolean
  disabled?: boolean
}) {
  const id = useId()
  const { label, term, value, options, apart, onChoose, beside, bare = false, stacked = false, disabled = false } = props
  return (
    <div className={bare ? 'edit-bare' : `edit-field ${stacked ? 'is-stacked' : ''}`}>
      {bare ? null : (
        <label htmlFor={id}>
          <Labelled label={label} term={term} />
        </label>
      )}
      <NativeSelect
        id={id}
        {...(bare ? { 'aria-label': label } : {})}
        value={value}
        disabled={disabled}
        data={[
          ...options.map((o) => ({ value: o.value, label: o.label })),
          ...(apart && apart.options.length > 0 ? [{ group: apart.heading, items: [...apart.options] }] : []),
        ]}
        onChange={(event) => {
          const chosen = [...options, ...(apart?.options ?? [])].find((o) => o.value === event.currentTarget.value)
          if (chosen) onChoose(chosen.value)
        }}
      />
      {beside ? <div className="second small beside">{beside}</div> : null}
    </div>
  )
}
