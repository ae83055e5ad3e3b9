import { useViewportSize } from '@mantine/hooks'
import { useEffect, useRef } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { readingDoubts } from '../chain/reading-doubts.ts'
import { readingState } from '../chain/reading-text.ts'
import { numberText } from '../figures/number-text.ts'
import { pressed } from '../frame/key-table.ts'
import { InDoubt } from '../parts/in-doubt.tsx'
import { Shape } from '../parts/quantity.tsx'
import { useTopic } from '../state/host-context.tsx'
import { type PointView, usePointViews } from '../state/point-view.ts'
import { besideSize, distanceGrid, emsOf, mostPoints } from './digit-size.ts'
import { distanceOpen } from './distance-open.ts'

/** Nothing but digits, unit and state, to be read from where the weights are put on. */
export function DistanceView({ job, pointIds }: { job: Job; pointIds: readonly string[] }) {
  const views = usePointViews(pointIds.slice(0, mostPoints))
  const stopped = useTopic('session')?.stopped ?? false
  const { width, height } = useViewportSize()
  const section = useRef<HTMLElement>(null)
  useEffect(() => {
    const before = document.activeElement
    section.current?.focus()
    return () => (before instanceof HTMLElement ? before.focus() : undefined)
  }, [])
  // By maximum load, not by the reading of the moment: digits that change their size could not be read.
  const widest = Math.max(...views.map((v) => emsOf(widestText(v, job.decimalSign))), emsOf('000'))
  const { columns, digitPx } = distanceGrid(views.length, widest, { width, height: height - 44 })
  const left = pointIds.length - views.length

  return (
    <section
      className="distance"
      aria-label="Readings to be read from afar"
      ref={section}
      tabIndex={-1}
      onKeyDown={(event) => {
        if (!pressed(event, 'back')) return
        event.stopPropagation()
        distanceOpen.set(false)
      }}
    >
      <div className="distance-grid" style={{ gridTemplateColumns: `repeat(${columns}, minmax(0, 1fr))` }}>
        {views.map((view) => (
          <DistanceReading key={view.point.id} view={view} digitPx={digitPx} />
        ))}
      </div>
      <footer className="distance-foot">
        {job.simulated ? <b className="practice">Practice: simulated</b> : null}
        {stopped ? <b className="attention">Sending is stopped</b> : null}
        {left > 0 ? <span>{left} more are chosen; twelve at most are shown</span> : null}
        <span className="spring" />
        <span className="second">Esc back · Shift Esc stop sending</span>
      </footer>
    </section>
  )
}

function widestText({ point }: PointView, sign: '.' | ','): string {
  const decimals = point.scaleInterval.split('.')[1]?.length ?? 0
  return numberText(`-${Number(point.maximumLoad).toFixed(decimals)}`, sign)
}

function DistanceReading({ view, digitPx }: { view: PointView; digitPx: number }) {
  const { reading, unit, kind, word, alarm, struck, tone } = readingState(view)
  const besidePx = besideSize(digitPx)
  return (
    <div className="distance-reading">
      <div className="distance-tag" style={{ fontSize: besidePx }}>
        {view.point.tag} <span className="second">{view.point.name}</span>
      </div>
      <div
        className={`digits ${struck ? 'struck' : alarm === null ? '' : 'lost'}`}
        style={{ fontSize: digitPx, lineHeight: `${Math.round(digitPx * 1.05)}px` }}
      >
        {reading === null ? '–' : numberText(reading, view.job.decimalSign)}
      </div>
      <div className="distance-state" style={{ fontSize: besidePx }}>
        <span className="unit">{unit}</span>{' '}
        <span className={tone === 'plain' ? '' : tone}>
          {tone === 'lost' ? <Shape kind="square" /> : null}
          {word}
          {reading === null ? '' : ` · ${kind}`}
        </span>{' '}
        {/* Beside an alarm the mark alone: a line that is cut off tells neither. */}
        <InDoubt of={readingDoubts(view)} said={alarm === null} />
      </div>
    </div>
  )
}
