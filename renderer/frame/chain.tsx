import { chainCells } from '../chain/chain-cells.ts'
import { expectedLines } from '../chain/expected.ts'
import { type PlaceId, placeIds, placeNames } from '../places/place-ids.ts'
import { open } from '../state/navigation.ts'
import type { PointView } from '../state/point-view.ts'

/** The chosen row of the table, with one more line of detail a place. */
export function Chain({ view, place }: { view: PointView; place: PlaceId }) {
  const expected = expectedLines(view)
  return (
    <nav aria-label={`Chain of ${view.point.tag}`}>
      <ol className="chain">
        {placeIds.map((id) => {
          const cell = chainCells[id](view)
          const below = (cell.tone === 'plain' ? expected[id] : undefined) ?? cell.detail
          const detail = cell.also && typeof below === 'string' ? `${cell.also} · ${below}` : below
          return (
            <li key={id}>
              <button
                type="button"
                className="chain-link"
                aria-current={id === place ? 'page' : undefined}
                onClick={() => open({ pointId: view.point.id, place: id })}
              >
                <span className="name">{placeNames[id]}</span>
                <span className={`most ${cell.tone === 'plain' ? '' : cell.tone}`}>{cell.most}</span>
                <span className="detail" title={typeof detail === 'string' ? detail : undefined}>
                  {detail}
                </span>
              </button>
            </li>
          )
        })}
      </ol>
    </nav>
  )
}
