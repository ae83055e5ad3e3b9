import { useRef } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { needsAttention } from '../chain/chain-cells.ts'
import { readingDoubts } from '../chain/reading-doubts.ts'
import { readingState } from '../chain/reading-text.ts'
import { InDoubt } from '../parts/in-doubt.tsx'
import { Quantity, Shape } from '../parts/quantity.tsx'
import type { PlaceId } from '../places/place-ids.ts'
import { open } from '../state/navigation.ts'
import { usePointView } from '../state/point-view.ts'
import { useAttention } from '../table/attention.ts'
import { BeyondEdges } from '../table/beyond.tsx'

/** The other points at the left of the open one: tag, reading, and a phrase only where somebody has to look. */
export function PointList({ job, openId, place }: { job: Job; openId: string; place: PlaceId }) {
  const list = useRef<HTMLUListElement>(null)
  const attention = useAttention()
  return (
    <nav className="point-list" aria-label="Measuring points">
      <button type="button" className="list-back" onClick={() => open({ pointId: null, place })}>
        <span>
          All points<span className="key">Esc</span>
        </span>
        <span>{job.points.length}</span>
      </button>
      <ul className="list-items" ref={list}>
        {job.points.map((p) => (
          <li key={p.id} data-point={p.id}>
            <ListItem pointId={p.id} place={place} isOpen={p.id === openId} />
          </li>
        ))}
      </ul>
      {attention.size > 0 ? (
        <p className="list-foot">
          <span className="attention">
            {attention.size} {attention.size === 1 ? 'needs' : 'need'} attention
          </span>{' '}
          <BeyondEdges list={list} attention={attention} />
        </p>
      ) : null}
    </nav>
  )
}

function ListItem({ pointId, place, isOpen }: { pointId: string; place: PlaceId; isOpen: boolean }) {
  const view = usePointView(pointId)
  if (!view) return null
  const reading = readingState(view)
  const doubts = readingDoubts(view)
  const [first] = needsAttention(view)
  return (
    <button type="button" className="list-item" aria-current={isOpen} onClick={() => open({ pointId, place })}>
      <span className="line">
        <span className="tag">{view.point.tag}</span>
        {reading.reading === null ? (
          '–'
        ) : (
          <span className={reading.alarm !== null ? 'lost' : doubts.length > 0 && !reading.struck ? 'attention' : undefined}>
            <InDoubt of={doubts} />
            <span className={reading.struck ? 'struck' : undefined}>
              <Quantity value={reading.reading} unit={reading.unit} strong={!reading.struck} />
            </span>
          </span>
        )}
      </span>
      {first ? (
        <span className={first.tone}>
          {first.tone === 'lost' ? <Shape kind="square" /> : null}
          {first.phrase}
        </span>
      ) : null}
    </button>
  )
}
