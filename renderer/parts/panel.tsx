import { Button } from '@mantine/core'
import { type ReactNode, useEffect, useRef } from 'react'
import { pressed } from '../frame/key-table.ts'
import { Scroller } from './scroller.tsx'

/** A place to work in, below the table or the header; it takes the focus when it opens and gives it back by Esc. */
export function Panel({
  title,
  beside,
  onClose,
  className = '',
  children,
}: {
  title: string
  beside?: ReactNode
  onClose: () => void
  className?: string
  children: ReactNode
}) {
  const section = useRef<HTMLElement>(null)
  useEffect(() => {
    const first = section.current?.querySelector<HTMLElement>('.panel-body :is(input, select, textarea, button):not([disabled])')
    first?.focus()
  }, [])
  return (
    <section
      ref={section}
      className={`panel ${className}`}
      aria-label={title}
      onKeyDown={(event) => {
        if (!pressed(event, 'back') || event.defaultPrevented) return
        event.preventDefault()
        onClose()
      }}
    >
      <div className="panel-head">
        <h2>{title}</h2>
        {beside}
        <span className="spring" />
        <Button onClick={onClose}>
          Close<span className="visually-hidden"> the panel</span>
          <span className="key" aria-hidden="true">
            Esc
          </span>
        </Button>
      </div>
      <Scroller className="panel-body">{children}</Scroller>
    </section>
  )
}
