import {
  columnFilteringFeature,
  createColumnHelper,
  createFilteredRowModel,
  createSortedRowModel,
  globalFilteringFeature,
  rowSortingFeature,
  type SortingState,
  tableFeatures,
  useTable,
} from '@tanstack/react-table'
import { useMemo } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { type PlaceId, placeIds } from '../places/place-ids.ts'
import { useHost } from '../state/host-context.tsx'
import { gather } from '../state/point-view.ts'
import { sharedState } from '../state/shared-state.ts'
import type { Store } from '../state/store.ts'
import { bySortValue, findText, foundBy, type RowData, rowData } from './row-data.ts'

/** How the rows are asked for, and what they were like when that was asked. */
type Asked = { sorting: SortingState; onlyAttention: boolean; find: string; taken: ReadonlyMap<string, RowData> }
const asked = sharedState<Asked>({ sorting: [], onlyAttention: false, find: '', taken: new Map() })

const features = tableFeatures({
  rowSortingFeature,
  sortedRowModel: createSortedRowModel(),
  columnFilteringFeature,
  globalFilteringFeature,
  filteredRowModel: createFilteredRowModel(),
})
const helper = createColumnHelper<typeof features, RowData>()
const byTag = new Intl.Collator('en', { numeric: true })
const columns = helper.columns([
  helper.accessor('tag', { sortFn: (a, b) => byTag.compare(a.original.tag, b.original.tag), sortDescFirst: false }),
  helper.accessor('attention', {
    sortFn: (a, b) => a.original.attention - b.original.attention,
    filterFn: (row, _column, wanted: boolean) => !wanted || row.original.attention > 0,
  }),
  ...placeIds.map((id) =>
    helper.accessor((row) => row.sortBy[id], {
      id,
      sortFn: (a, b) => bySortValue(a.original.sortBy[id], b.original.sortBy[id]),
      sortDescFirst: true,
    }),
  ),
])

export type SortKey = 'tag' | 'attention' | PlaceId

/** The order of rows: as the job has them until somebody asks for another, and then as values were when it was asked. */
export function useOrder(job: Job) {
  const { store } = useHost()
  const now = asked.use()
  // Tags, names and serials follow edits; everything that lives stays as it was when the order was asked for.
  const data = useMemo(() => job.points.flatMap((p) => rowOf(store, job, now.taken, p.id) ?? []), [store, job, now.taken])
  const table = useTable({
    features,
    columns,
    data,
    getRowId: (row) => row.id,
    state: {
      sorting: now.sorting,
      globalFilter: now.find.trim(),
      columnFilters: now.onlyAttention ? [{ id: 'attention', value: true }] : [],
    },
    globalFilterFn: (row, _column, typed: string) => foundBy(row.original.text, typed),
    getColumnCanGlobalFilter: (column) => column.id === 'tag',
  })
  const ids = table
    .getRowModel()
    .rows.map((row) => row.id)
    .join('\n')
  const shown = useMemo(() => (ids === '' ? [] : ids.split('\n')), [ids])
  const ask = (change: Partial<Asked>) => asked.set((held) => ({ ...held, ...change, taken: takeAll(store) }))

  return {
    shown,
    find: now.find,
    onlyAttention: now.onlyAttention,
    sorted: (key: SortKey): 'asc' | 'desc' | false => {
      const [first] = now.sorting
      return first?.id === key ? (first.desc ? 'desc' : 'asc') : false
    },
    /** First by what is most telling, then the other way round, then as the job has it. */
    sortBy(key: SortKey) {
      const first = key !== 'tag'
      const [held] = now.sorting
      const next = held?.id !== key ? [{ id: key, desc: first }] : held.desc === first ? [{ id: key, desc: !first }] : []
      ask({ sorting: key === 'attention' && held?.id === key ? [] : next })
    },
    setOnlyAttention: (onlyAttention: boolean) => ask({ onlyAttention }),
    setFind: setFind,
    /** Points that need a look now and did not, or did and no longer do, since the order was asked for. */
    changedSince: (attention: ReadonlySet<string>): number =>
      now.sorting.some((s) => s.id === 'attention') || now.onlyAttention
        ? data.filter((row) => row.attention > 0 !== attention.has(row.id)).length
        : 0,
    askAgain: () => ask({}),
  }
}

export type Order = ReturnType<typeof useOrder>

export const setFind = (find: string): void => asked.set((held) => ({ ...held, find }))
export const useFind = (): string => asked.use().find

function rowOf(store: Store, job: Job, taken: ReadonlyMap<string, RowData>, pointId: string): RowData | null {
  const view = gather(store, job, null, pointId)
  if (!view) return null
  const held = taken.get(pointId) ?? rowData(view)
  return { ...held, tag: view.point.tag, text: findText(view) }
}

function takeAll(store: Store): ReadonlyMap<string, RowData> {
  const job = store.topic('job')
  const visitId = store.topic('session')?.visitId ?? null
  const views = (job?.points ?? []).flatMap((p) => (job ? (gather(store, job, visitId, p.id) ?? []) : []))
  return new Map(views.map((view) => [view.point.id, rowData(view)]))
}
