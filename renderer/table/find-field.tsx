import { TextInput } from '@mantine/core'
import { useRef } from 'react'
import { keyName, pressed } from '../frame/key-table.ts'
import { open, useView } from '../state/navigation.ts'
import { setFind, useFind } from './order.ts'

const fieldId = 'find-points'

/** Finds points by tag, name, indicator or serial of a sensor; Enter goes to the first, Esc shows all again. */
export function FindField() {
  const find = useFind()
  const view = useView()
  const field = useRef<HTMLInputElement>(null)
  return (
    <TextInput
      id={fieldId}
      ref={field}
      className="find-field"
      aria-label="Find points by tag, name, indicator or serial"
      placeholder="Find"
      value={find}
      autoComplete="off"
      spellCheck={false}
      rightSection={find === '' ? <span className="key">{keyName('Ctrl K')}</span> : null}
      rightSectionWidth={48}
      rightSectionPointerEvents="none"
      onChange={(event) => {
        setFind(event.currentTarget.value)
        if (view.pointId !== null) open({ pointId: null, place: view.place })
      }}
      onKeyDown={(event) => {
        if (pressed(event, 'takeBack')) {
          event.stopPropagation()
          setFind('')
          focusTable()
        }
        if (pressed(event, 'firstFound')) {
          event.preventDefault()
          focusTable()
        }
      }}
    />
  )
}

export const focusFind = (): void => document.querySelector<HTMLInputElement>(`#${fieldId}`)?.select()

/** The cell of the first row that keys start from. */
function focusTable(): void {
  requestAnimationFrame(() => document.querySelector<HTMLElement>('.points tbody button.cell[tabindex="0"]')?.focus())
}
