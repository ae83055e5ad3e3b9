import { useMemo } from 'react'
import { units } from '../../app/quantity/units.ts'
import { Shape } from '../parts/quantity.tsx'
import { usePointViews } from '../state/point-view.ts'
import { type ReadingBefore, readingAcross } from './readings-across.ts'

/** What a write did to the readings, live: before it, now, and expected by the load that is known to be on. Nothing where none was known. */
export function ReadingsAcrossTable({ before }: { before: readonly ReadingBefore[] }) {
  const views = usePointViews(useMemo(() => before.map((b) => b.pointId), [before]))
  const rows = before.flatMap((b) => {
    const view = views.find(({ point }) => point.id === b.pointId)
    return view ? [{ point: view.point, ...readingAcross(view, b) }] : []
  })
  if (rows.length === 0) return null
  const loadKnown = rows.some(({ expected }) => expected !== null)
  return (
    <table className="plain-table outcome-table">
      <thead>
        <tr>
          <th scope="col">Gross reading</th>
          <th scope="col" className="is-right">
            before
          </th>
          <th scope="col" className="is-right">
            now
          </th>
          {loadKnown ? (
            <th scope="col" className="is-right">
              expected
            </th>
          ) : null}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ point, before: was, now, expected, off }) => (
          <tr key={point.id}>
            <td>{point.tag}</td>
            <td className="is-right nowrap">{was}</td>
            <td className="is-right nowrap">
              {now === null ? (
                <span className="second">not read yet</span>
              ) : (
                <b className={off ? 'attention' : ''}>
                  {off ? <Shape kind="triangle" /> : null}
                  {now}
                  {off ? <span className="visually-hidden">, outside the tolerance</span> : null}
                </b>
              )}{' '}
              <span className="unit">{units[point.unit].symbol}</span>
            </td>
            {loadKnown ? <td className="is-right nowrap">{expected ?? <span className="second">load not known</span>}</td> : null}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
