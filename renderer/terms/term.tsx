import { Tooltip } from '@mantine/core'
import { type ReactNode, useId } from 'react'
import { explained } from './explained.ts'
import { type TermName, terms } from './terms.ts'

const events = { hover: true, focus: true, touch: true }

/**
 * A term with its sentence, shown under the pointer, by touch, with the focus on it, and by key for the field it names.
 * `inLabel`: the tab key goes to the field and not to its label.
 */
export function Term({ of, inLabel = false, children }: { of: TermName; inLabel?: boolean; children?: ReactNode }) {
  const id = useId()
  const asked = explained.use() === id
  return (
    <Tooltip label={terms[of]} events={events} {...(asked ? { opened: true } : {})}>
      <span id={id} className="term" data-term={of} {...(inLabel ? {} : { tabIndex: 0 })}>
        {children ?? of}
      </span>
    </Tooltip>
  )
}
