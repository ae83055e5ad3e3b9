import { Tabs } from '@mantine/core'
import { type ReactNode, useId } from 'react'
import { keptState } from '../state/kept-state.ts'
import { Term } from '../terms/term.tsx'
import type { TermName } from '../terms/terms.ts'
import { Scroller } from './scroller.tsx'
import { useRoom } from './use-room.ts'

/** `name` is the heading, and the tab where there is little room; `beside` stands at the end of the heading's line. */
export type ColumnPart = { name: string; term?: TermName; content: ReactNode; beside?: ReactNode; print?: false }
export type PlaceColumn = {
  className?: string
  parts: readonly ColumnPart[]
  /** Never scrolls away. */
  top?: ReactNode
  /** Stays beside the tabs. */
  main?: true
}

const slug = (name: string) => name.toLowerCase().replace(/\W+/g, '-')

/** With less height than this the side columns become tabs beside the main one. */
const leastPx = 480
/** The tab of each place stays when the point changes. */
const tabs = keptState<Readonly<Record<string, string>>>('tabs', {}, (found) =>
  typeof found === 'object' && found !== null
    ? Object.fromEntries(Object.entries(found).filter(([, tab]) => typeof tab === 'string'))
    : undefined,
)

/**
 * Columns of a place, each scrolling by itself; where there is little height, or less than `leastWidth`, the main one with the parts of
 * the others as tabs beside it.
 */
export function PlaceColumns(props: { place: string; columns: readonly PlaceColumn[]; leastWidth?: number }) {
  const { place, columns, leastWidth = 0 } = props
  const { ref, width, height } = useRoom<HTMLDivElement>()
  const short = height > 0 && (height < leastPx || width < leastWidth)
  const filled = columns.filter((column) => column.parts.length > 0)
  const side = filled.filter((column) => !column.main)
  return (
    <div className={`columns ${place} ${short ? 'is-short' : ''}`} ref={ref}>
      {short && side.length > 0 ? <SideTabs place={place} columns={side} /> : null}
      {filled
        .filter((column) => column.main || !short)
        .map((column) => (
          <Column key={column.parts[0]?.name} column={column} />
        ))}
    </div>
  )
}

function Column({ column }: { column: PlaceColumn }) {
  const { className = '', parts, top } = column
  return (
    <section className={`column ${className}`}>
      {top}
      <Scroller>
        {parts.map((part) => (
          <div key={part.name} className={`column-part ${part.print === false ? 'no-print' : ''}`}>
            <div className="heading-row">
              <h2>{part.term ? <Term of={part.term}>{part.name}</Term> : part.name}</h2>
              {part.beside}
            </div>
            {part.content}
          </div>
        ))}
      </Scroller>
    </section>
  )
}

function SideTabs({ place, columns }: { place: string; columns: readonly PlaceColumn[] }) {
  const id = useId()
  const chosen = tabs.use()[place]
  const parts = columns.flatMap((column) => column.parts)
  const shown = parts.find((part) => slug(part.name) === chosen) ?? parts[0]
  return (
    <section className="column side-tabs">
      {columns.map((column) => (column.top ? <div key={column.parts[0]?.name}>{column.top}</div> : null))}
      <Tabs
        id={id}
        value={shown ? slug(shown.name) : null}
        onChange={(tab) => tabs.set((now) => ({ ...now, ...(tab === null ? {} : { [place]: tab }) }))}
        className="no-print"
      >
        <Tabs.List data-own-keys>
          {parts.map((part) => (
            <Tabs.Tab key={part.name} value={slug(part.name)}>
              {part.name}
            </Tabs.Tab>
          ))}
        </Tabs.List>
      </Tabs>
      {parts.map((part) => (
        // All are there, so that what is printed does not depend on the tab.
        <div
          key={part.name}
          role="tabpanel"
          id={`${id}-panel-${slug(part.name)}`}
          aria-labelledby={`${id}-tab-${slug(part.name)}`}
          className={`tab-panel ${part === shown ? '' : 'is-behind'} ${part.print === false ? 'no-print' : ''}`}
        >
          <Scroller>
            {part.beside}
            {part.content}
          </Scroller>
        </div>
      ))}
    </section>
  )
}
