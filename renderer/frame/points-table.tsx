import { Checkbox } from '@mantine/core'
import { type KeyboardEvent, useState } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { chainCells } from '../chain/chain-cells.tsx'
import { TrendPanel } from '../figures/trend/trend-panel.tsx'
import { type PlaceId, placeIds, placeNames } from '../places/place-ids.ts'
import { open } from '../state/navigation.ts'
import { usePointView, usePointViews } from '../state/point-view.ts'

/** All measuring points: a row a point, a column a place; what is chosen is trended below. */
export function PointsTable({ job, place }: { job: Job; place: PlaceId }) {
  const [chosen, setChosen] = useState<readonly string[]>([])
  const choose = (id: string, on: boolean) => setChosen((now) => (on ? [...now, id].slice(-8) : now.filter((x) => x !== id)))
  const shown = chosen.length > 0 ? chosen : job.points.slice(0, 1).map((p) => p.id)
  const points = shown.flatMap((id) => job.points.filter((p) => p.id === id))

  return (
    <main className="table-view">
      <h1 className="visually-hidden">All points</h1>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: arrow keys move between the buttons inside */}
      <div className="points-scroll" onKeyDown={moveByArrows}>
        <table className="points">
          <thead>
            <tr>
              <th scope="col">
                Measuring points <span className="second">{job.points.length}</span>
              </th>
              {placeIds.map((id, i) => (
                <th scope="col" key={id} className={id === 'reading' ? 'is-right' : ''}>
                  {placeNames[id]}
                  {i < placeIds.length - 2 ? (
                    <span className="link" aria-hidden="true">
                      —
                    </span>
                  ) : null}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {job.points.map((p, row) => (
              <PointRow
                key={p.id}
                pointId={p.id}
                chosen={chosen.includes(p.id)}
                onChoose={(on) => choose(p.id, on)}
                startHere={row === 0 ? place : undefined}
              />
            ))}
          </tbody>
        </table>
      </div>
      {points.length > 0 ? <ChosenTrend pointIds={points.map((p) => p.id)} /> : null}
    </main>
  )
}

function ChosenTrend({ pointIds }: { pointIds: readonly string[] }) {
  const views = usePointViews(pointIds)
  const [only] = views
  return (
    <section className="trend-below" aria-label="Trend">
      <TrendPanel views={views} heading={<h2>{views.length === 1 ? only?.point.tag : `${views.length} chosen`}</h2>} />
    </section>
  )
}

function PointRow({
  pointId,
  chosen,
  onChoose,
  startHere,
}: {
  pointId: string
  chosen: boolean
  onChoose: (on: boolean) => void
  startHere: PlaceId | undefined
}) {
  const view = usePointView(pointId)
  if (!view) return null
  const { point } = view
  return (
    <tr>
      <th scope="row">
        <span className="tag-cell">
          <Checkbox
            checked={chosen}
            onChange={(event) => onChoose(event.currentTarget.checked)}
            aria-label={`Show ${point.tag} in the trend`}
          />
          <button type="button" className="tag-button" tabIndex={-1} onClick={() => open({ pointId, place: 'reading' })}>
            <b>{point.tag}</b> <span className="second">{point.name}</span>
          </button>
        </span>
      </th>
      {placeIds.map((id) => {
        const cell = chainCells[id](view)
        return (
          <td key={id} className={id === 'reading' ? 'is-right' : ''}>
            <button
              type="button"
              className={`cell ${cell.tone === 'plain' ? '' : cell.tone}`}
              data-place={id}
              tabIndex={id === startHere ? 0 : -1}
              aria-label={`${point.tag}, ${placeNames[id]}`}
              aria-describedby={`${pointId}-${id}`}
              onClick={() => open({ pointId, place: id })}
            >
              <span id={`${pointId}-${id}`} className={id === 'reading' ? 'strong' : undefined}>
                {cell.most}
              </span>
            </button>
          </td>
        )
      })}
    </tr>
  )
}

/** Left, right, up and down between the cells of the table. */
function moveByArrows(event: KeyboardEvent<HTMLElement>) {
  const step = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] }[event.key]
  const cell = event.target instanceof HTMLElement ? event.target.closest('button.cell') : null
  if (!step || !cell) return
  const rows = [...event.currentTarget.querySelectorAll('tbody tr')].map((row) => [...row.querySelectorAll<HTMLElement>('button.cell')])
  const row = rows.findIndex((cells) => cells.includes(cell as HTMLElement))
  const column = rows[row]?.indexOf(cell as HTMLElement) ?? 0
  const [down = 0, right = 0] = step
  const next = rows[row + down]?.[column + right]
  if (!next) return
  event.preventDefault()
  cell.setAttribute('tabindex', '-1')
  next.setAttribute('tabindex', '0')
  next.focus()
}
