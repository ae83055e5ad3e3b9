import { Textarea, TextInput } from '@mantine/core'
import { type KeyboardEvent, useId, useState } from 'react'
import type { Result } from '../../app/result.ts'
import { pressed } from '../frame/key-table.ts'

type Props = {
  label: string
  shown: string
  /** Puts what was typed away; what is wrong with it otherwise. */
  keep: (typed: string) => Promise<Result<null, string>>
  lines?: boolean
  /** Label above the field, for longer texts; lines have it there in any case. */
  stacked?: boolean
  placeholder?: string
  beside?: string | undefined
}

/** One value of a description. Leaving the field, or Enter, keeps it; Esc brings back what is held; what is refused stays with the reason. */
export function KeptField({ label, shown, keep, lines = false, stacked = lines, placeholder = '', beside }: Props) {
  const id = useId()
  const [typed, setTyped] = useState<string | null>(null)
  const [problem, setProblem] = useState<string | null>(null)
  const forget = () => {
    setTyped(null)
    setProblem(null)
  }
  const commit = async () => {
    if (typed === null) return
    if (typed.trim() === shown) return forget()
    const kept = await keep(typed.trim())
    if (kept.ok) forget()
    else setProblem(kept.failure)
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (pressed(event, 'put') && !lines) void commit()
    if (pressed(event, 'takeBack') && typed !== null) {
      event.stopPropagation()
      forget()
    }
  }
  const common = {
    id,
    value: typed ?? shown,
    error: problem,
    placeholder,
    onBlur: () => void commit(),
    onKeyDown,
  }
  const type = (text: string) => {
    setTyped(text)
    setProblem(null)
  }
  return (
    <div className={`edit-field ${stacked ? 'is-stacked' : ''}`}>
      <label htmlFor={id}>{label}</label>
      {lines ? (
        <Textarea {...common} autosize minRows={1} onChange={(event) => type(event.currentTarget.value)} />
      ) : (
        <TextInput {...common} autoComplete="off" spellCheck={false} onChange={(event) => type(event.currentTarget.value)} />
      )}
      {beside ? <span className="second small beside">{beside}</span> : null}
    </div>
  )
}
