import { TextInput } from '@mantine/core'
import { type KeyboardEvent, type ReactNode, useId, useRef, useState } from 'react'
import { numberIn } from '../../app/quantity/number-in.ts'
import { parseNumber, parseQuantity } from '../../app/quantity/parse.ts'
import type { QuantityText } from '../../app/quantity/quantity-text.ts'
import { type Dimension, type UnitId, units } from '../../app/quantity/units.ts'
import { fail, type Result } from '../../app/result.ts'
import { unitMeant } from '../../app/scaling/reading-settings.ts'
import { explain } from '../figures/explain.ts'
import { numberText } from '../figures/number-text.ts'
import { focusHome } from '../frame/keep-focus.ts'
import { pressed } from '../frame/key-table.ts'
import { type Answer, useTopic } from '../state/host-context.tsx'
import type { EditPoint, PointChange } from '../state/use-point-edit.ts'
import { Labelled } from '../terms/labelled.tsx'
import type { TermName } from '../terms/terms.ts'

type Reading<V> = (typed: string) => Result<V, { why: string }>

type Edit<C> = (revision: number, change: C) => Promise<Answer<'point.edit'>>

type Props<V, C> = {
  label: string
  /** The term of the trade that the label is or has. */
  term?: TermName | undefined
  /** What is held now, as it would be typed. */
  shown: string
  read: Reading<V>
  change: (value: V) => C
  edit: Edit<C>
  /** What else matters beside the number. */
  beside?: ReactNode
  /** Label above the field, for longer texts; `bare`: a cell of a table or row that has its label elsewhere. */
  stacked?: boolean
  bare?: boolean
  /** What an emptied field means; without it an empty field is refused like any other text that is no value. */
  clear?: (() => C) | undefined
  disabled?: boolean
  /** What an empty field that may be empty says. */
  empty?: string
  /** What stands in an empty field in any case. */
  placeholder?: string
}

/**
 * One value that people decide. Enter or leaving the field puts it into the job; Esc brings back what is held.
 * What cannot be read, or is refused, stays in the field with the reason below it.
 */
function EditField<V, C>({
  label,
  term,
  shown,
  read,
  change,
  edit,
  beside,
  stacked = false,
  bare = false,
  clear,
  disabled = false,
  empty = 'not stated',
  placeholder,
}: Props<V, C>) {
  const id = useId()
  const revision = useTopic('job')?.revision ?? 0
  const startedOn = useRef(revision)
  const [typed, setTyped] = useState<string | null>(null)
  const [problem, setProblem] = useState<string | null>(null)
  const [stale, setStale] = useState(false)

  const commit = async () => {
    if (typed === null) return
    if (typed.trim() === shown) return forget()
    const emptied = typed.trim() === '' && clear
    const value = emptied ? null : read(typed)
    if (value && !value.ok) return setProblem(value.failure.why)
    const wanted = emptied ? emptied() : value?.ok ? change(value.value) : undefined
    if (wanted === undefined) return forget()
    const answer = await edit(startedOn.current, wanted)
    if (answer.ok) return forget()
    if (answer.failure.kind !== 'stale') return setProblem(explain(answer.failure))
    startedOn.current = answer.failure.revision
    setStale(true)
  }
  const forget = () => {
    setTyped(null)
    setProblem(null)
    setStale(false)
  }
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    if (pressed(event, 'put')) void commit()
    if (!pressed(event, 'takeBack')) return
    // The first takes out what was typed, the next leaves the field; one more goes back to all points.
    if (typed === null) {
      // At once: an Esc that follows before the next frame is no longer this field's.
      event.currentTarget.blur()
      return focusHome()
    }
    event.stopPropagation()
    forget()
  }

  return (
    <div className={bare ? 'edit-bare' : `edit-field ${stacked ? 'is-stacked' : ''}`}>
      {bare ? null : (
        <label htmlFor={id}>
          <Labelled label={label} term={term} />
        </label>
      )}
      <TextInput
        id={id}
        {...(bare ? { 'aria-label': label } : {})}
        value={typed ?? shown}
        error={problem}
        disabled={disabled}
        placeholder={placeholder ?? (clear ? empty : '')}
        autoComplete="off"
        spellCheck={false}
        onChange={(event) => {
          if (typed === null) startedOn.current = revision
          setTyped(event.currentTarget.value)
          setProblem(null)
          setStale(false)
        }}
        onBlur={() => void commit()}
        onKeyDown={onKeyDown}
      />
      {/* Nothing is wrong with what was typed: a question, not an error. */}
      {stale ? (
        <p className="attention small beside" role="status">
          Changed elsewhere meanwhile: it is now {shown}. Enter puts yours in its place, Esc keeps it.
        </p>
      ) : null}
      {beside ? <div className="second small beside">{beside}</div> : null}
    </div>
  )
}

type Common = {
  label: string
  term?: TermName
  edit: EditPoint
  beside?: ReactNode
  stacked?: boolean
  bare?: boolean
  clear?: (() => PointChange) | undefined
  empty?: string
}

export function TextField({ value, change, ...rest }: Common & { value: string; change: (value: string) => PointChange }) {
  return <EditField {...rest} shown={value} read={(typed) => ({ ok: true, value: typed.trim() })} change={change} />
}

/** A number with its unit, in any unit of the dimensions that fit; "1 t" is taken as readily as "1000 kg". */
export function QuantityField(
  props: Common & {
    value: QuantityText | undefined
    dimensions: readonly Dimension[]
    unit?: UnitId
    change: (value: QuantityText) => PointChange
  },
) {
  const sign = useTopic('job')?.decimalSign ?? '.'
  const { value, dimensions, unit, change, ...rest } = props
  const shown = value ? `${numberText(value.value, sign)} ${units[value.unit].symbol}` : ''
  const read: Reading<QuantityText> = (typed) =>
    parseQuantity(typed, { decimalSign: sign, dimensions, ...((unit ?? value) ? { unit: unit ?? value?.unit ?? 'kg' } : {}) })
  return <EditField {...rest} shown={shown} read={read} change={change} />
}

/** A number in the point's own unit, or with `unit` null a bare one. */
export function NumberField(
  props: Common & {
    value: string
    unit: UnitId | null
    change: (value: string) => PointChange
    /** Why a number cannot be, where no change can be made of it for the host to refuse. */
    whyNot?: (value: string) => string | null
  },
) {
  const sign = useTopic('job')?.decimalSign ?? '.'
  const { value, unit, change, whyNot, ...rest } = props
  const symbol = unit === null ? '' : units[unit].symbol
  const read: Reading<string> = (typed) => {
    const number = unit === null ? parseNumber(typed, sign) : numberIn(unit, typed, sign)
    const why = number.ok ? whyNot?.(number.value) : undefined
    return why ? fail({ why }) : number
  }
  return <EditField {...rest} shown={value === '' ? '' : `${numberText(value, sign)} ${symbol}`.trim()} read={read} change={change} />
}

/** A number meant for the indicator, in the register's own unit: it goes into what is intended, not into the indicator. */
export function SettingField(props: {
  label: string
  term?: TermName | undefined
  value: string
  unit: string
  intend: Edit<string>
  beside?: ReactNode
  disabled?: boolean
  bare?: boolean
  placeholder?: string
}) {
  const sign = useTopic('job')?.decimalSign ?? '.'
  const { label, value, unit, intend, ...rest } = props
  const known = unitMeant(unit)
  const read: Reading<string> = (typed) => {
    if (known) return numberIn(known, typed, sign)
    return parseNumber(unit !== '' && typed.trim().endsWith(unit) ? typed.trim().slice(0, -unit.length) : typed, sign)
  }
  const shown = value === '' ? '' : `${numberText(value, sign)} ${unit}`.trim()
  return <EditField {...rest} label={label} shown={shown} read={read} change={(text) => text} edit={intend} />
}
