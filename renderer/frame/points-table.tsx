import { Checkbox } from '@mantine/core'
import { useCallback, useMemo, useRef } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { useRoom } from '../parts/use-room.ts'
import { type PlaceId, placeIds, placeNames } from '../places/place-ids.ts'
import { AddPanel } from '../setup/add-panel.tsx'
import { BusesPanel } from '../setup/buses-panel.tsx'
import { RunResults } from '../several/run-results.tsx'
import { runs } from '../several/runs.ts'
import { SeveralEdit } from '../several/several-edit.tsx'
import { ZeroOrTare } from '../several/zero-or-tare.tsx'
import { lastOpen } from '../state/navigation.ts'
import { useAttention } from '../table/attention.ts'
import { below } from '../table/below.ts'
import { choice, onlyThese, rangeTo, scopeOf, toggled, useChosen } from '../table/choice.ts'
import { ChosenTrend } from '../table/chosen-trend.tsx'
import { ColumnHead } from '../table/column-head.tsx'
import { EmptyTable } from '../table/empty-table.tsx'
import { useOrder } from '../table/order.ts'
import { PointRow } from '../table/point-row.tsx'
import { ScopeBar } from '../table/scope-bar.tsx'
import { keepSpaceFromPressing, onTableKey } from '../table/table-keys.ts'

const rowPx = 29
const headPx = 32
const barPx = 44
/** The least that a trend is worth: with less it stays folded. */
const trendPx = 208
/** One action's results, about. */
const runPx = 100
/** So many rows stay in sight whatever is below them. */
const leastRows = 6

/** What to do first, where there is no point. */
const emptyPx = 150
/** The least height that the table is worth; a panel below the header may have the rest. */
export const tableLeastPx = (points: number): number => headPx + (points === 0 ? emptyPx : rowPx * Math.min(points, leastRows) + barPx)

/** All measuring points: a row a point, a column a place; what can be done for several, and below it trend or panels. */
export function PointsTable({ job, place }: { job: Job; place: PlaceId }) {
  const order = useOrder(job)
  const attention = useAttention()
  const chosen = useChosen(job)
  const panel = below.use()
  const { ref: room, height } = useRoom<HTMLElement>()
  const list = useRef<HTMLDivElement>(null)
  const { shown } = order
  const scope = useMemo(() => scopeOf(chosen, shown, job.points.length), [chosen, shown, job.points.length])
  const shownNow = useRef(shown)
  shownNow.current = shown
  const onChoose = useCallback(
    (id: string, withRange: boolean) => choice.set((now) => (withRange ? rangeTo(now, id, shownNow.current) : toggled(now, id))),
    [],
  )
  const leastListPx = headPx + rowPx * Math.min(shown.length, leastRows)
  const besidesPx = barPx + trendPx + runPx * runs.use().length
  const trendShown =
    panel === 'trend' ? height >= leastListPx + besidesPx : panel === null && height >= headPx + rowPx * shown.length + besidesPx
  const back = lastOpen()
  const start = back !== null && shown.includes(back) ? back : shown[0]
  const chosenShown = shown.filter((id) => chosen.includes(id)).length

  return (
    <main ref={room} className={`table-view ${panel !== null && panel !== 'trend' && panel !== 'nothing' ? 'has-panel' : ''}`}>
      <h1 className="visually-hidden">All points</h1>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: keys move between the buttons inside and choose rows */}
      <div
        className="points-scroll"
        ref={list}
        style={{ minHeight: leastListPx }}
        onKeyDown={(event) => onTableKey(event, shown)}
        onKeyUp={keepSpaceFromPressing}
      >
        <table className="points" aria-rowcount={shown.length + 1}>
          <thead>
            <tr>
              <th
                scope="col"
                aria-sort={order.sorted('tag') === false ? undefined : order.sorted('tag') === 'asc' ? 'ascending' : 'descending'}
              >
                <span className="tag-cell">
                  <Checkbox
                    checked={shown.length > 0 && chosenShown === shown.length}
                    indeterminate={chosenShown > 0 && chosenShown < shown.length}
                    onChange={() => choice.set(onlyThese(chosenShown === shown.length ? [] : shown))}
                    aria-label={`Choose all ${shown.length}`}
                  />
                  <button type="button" className="head-button" onClick={() => order.sortBy('tag')}>
                    Measuring points {order.sorted('tag') === 'asc' ? '↑ ' : order.sorted('tag') === 'desc' ? '↓ ' : ''}
                    {shown.length === job.points.length ? shown.length : `${shown.length} of ${job.points.length}`}
                  </button>
                </span>
              </th>
              {placeIds.map((id) => (
                <ColumnHead key={id} order={order} column={id} name={placeNames[id]} />
              ))}
            </tr>
          </thead>
          <tbody>
            {shown.map((id) => (
              <PointRow
                key={id}
                pointId={id}
                chosen={chosen.includes(id)}
                onChoose={onChoose}
                startHere={id === start ? place : undefined}
              />
            ))}
          </tbody>
        </table>
        {shown.length === 0 ? <EmptyTable job={job} order={order} /> : null}
      </div>
      {job.points.length > 0 ? (
        <ScopeBar job={job} scope={scope} order={order} attention={attention} list={list} trendShown={trendShown} />
      ) : null}
      <RunResults />
      {panel === 'add' || panel === 'import' || panel === 'like' ? <AddPanel job={job} way={panel} /> : null}
      {panel === 'buses' ? <BusesPanel job={job} /> : null}
      {panel === 'edit' ? <SeveralEdit job={job} scope={scope} /> : null}
      {panel === 'zero' ? <ZeroOrTare job={job} scope={scope} /> : null}
      {trendShown && shown.length > 0 ? <ChosenTrend pointIds={chosen.length > 0 ? chosen : shown.slice(0, 1)} /> : null}
    </main>
  )
}
