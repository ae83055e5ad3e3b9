import { Checkbox } from '@mantine/core'
import { memo } from 'react'
import { chainCells } from '../chain/chain-cells.ts'
import { type PlaceId, placeIds } from '../places/place-ids.ts'
import { open } from '../state/navigation.ts'
import { usePointView } from '../state/point-view.ts'
import { headId } from './column-head.tsx'

type Props = {
  pointId: string
  chosen: boolean
  onChoose: (id: string, withRange: boolean) => void
  /** The one cell that the tab key comes to. */
  startHere: PlaceId | undefined
}

/** One point: a cell a place. Drawn anew only when something of this point has changed. */
export const PointRow = memo(function PointRow({ pointId, chosen, onChoose, startHere }: Props) {
  const view = usePointView(pointId)
  if (!view) return null
  const { point } = view
  return (
    <tr data-point={pointId} className={chosen ? 'is-chosen' : undefined}>
      <th scope="row">
        <span className="tag-cell">
          <Checkbox
            checked={chosen}
            readOnly
            tabIndex={-1}
            onClick={(event) => onChoose(pointId, event.shiftKey)}
            aria-label={`Choose ${point.tag}`}
          />
          <button type="button" className="tag-button" tabIndex={-1} onClick={() => open({ pointId, place: 'reading' })}>
            <b id={`${pointId}-tag`}>{point.tag}</b> <span className="second">{point.name}</span>
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
              // Called by its row, its column and what it shows, so that it can be spoken to by what is seen.
              aria-labelledby={`${pointId}-tag ${headId(id)} ${pointId}-${id}`}
              onClick={() => open({ pointId, place: id })}
            >
              <span id={`${pointId}-${id}`} className={id === 'reading' ? 'strong' : undefined}>
                {cell.most}
                {cell.also ? <span className="second">, {cell.also}</span> : null}
              </span>
            </button>
          </td>
        )
      })}
    </tr>
  )
})
