import type { Order, SortKey } from './order.ts'

const arrows = { asc: '↑', desc: '↓' }
const spoken = { asc: 'ascending', desc: 'descending' } as const

/** Where the name of a column stands; cells are called by it. */
export const headId = (column: SortKey): string => `column-${column}`

/** A heading that sorts: what is most telling first, then the other way round, then the order of the job. */
export function ColumnHead({ order, column, name }: { order: Order; column: SortKey; name: string }) {
  const sorted = order.sorted(column)
  return (
    <th scope="col" className={column === 'reading' ? 'is-right' : ''} aria-sort={sorted ? spoken[sorted] : undefined}>
      <button type="button" className="head-button" onClick={() => order.sortBy(column)}>
        <span id={headId(column)}>{name}</span>
        {sorted ? <span aria-hidden="true"> {arrows[sorted]}</span> : null}
      </button>
    </th>
  )
}
