import { Button } from '@mantine/core'
import type { Job, Point, Visit } from '../../app/job/schema.ts'
import { pointsWrittenApart } from '../chain/intended-apart.ts'
import { movedSinceFound } from '../chain/since-found.ts'
import { openDescription } from '../describe/described.ts'
import { clockText } from '../figures/number-text.ts'
import { Shape } from '../parts/quantity.tsx'
import type { ReviewRequest } from '../review/review-request.ts'
import { settingsCount, writingWords } from '../review/step-words.ts'
import { indicatorsOf } from '../several/indicators-of.ts'
import { useTopic } from '../state/host-context.tsx'
import { open, useView } from '../state/navigation.ts'
import { profileOf } from '../state/profiles.ts'
import { type KnownIndicator, useIndicators } from '../state/use-indicators.ts'
import { sayHeld } from './held-words.ts'
import { HistoryBar } from './history-bar.tsx'

/** Tells whether the indicators hold what is intended, and is the only door to writing. */
export function FootBar({
  job,
  openId,
  chosen,
  onReview,
  onHelp,
  onLog,
  onChanges,
}: {
  job: Job
  openId: string | null
  /** Points chosen in the table: reviewing goes as far as they do. */
  chosen: readonly string[]
  onReview: (request: ReviewRequest) => void
  onHelp: () => void
  onLog: () => void
  onChanges: () => void
}) {
  const session = useTopic('session')
  const { place } = useView()
  const pointIds = openId !== null ? [openId] : chosen.length > 0 ? chosen : job.points.map((p) => p.id)
  const ids = indicatorsOf(job, pointIds).map(({ indicator }) => indicator.id)
  const states = useIndicators(ids)
  const visit = job.visits.find((v) => v.id === session?.visitId)
  const running = visit?.checks.some((c) => c.finishedAt === undefined && pointIds.includes(c.pointId)) ?? false
  const [only] = pointIds.length === 1 && (openId !== null || chosen.length === 1) ? pointIds : []
  const one = job.points.find((p) => p.id === only)
  const whose = one ? `${one.tag}: ` : chosen.length > 1 && openId === null ? `These ${chosen.length}: ` : ''
  const intending = job.points.filter((p) => pointIds.includes(p.id) && Object.keys(p.intended).length > 0).length
  const { text, count, differing } = sayHeld(
    states,
    whose,
    { points: pointIds.length, intending, indicators: job.indicators.length },
    one && { channel: one.channel, sinceFound: sinceFound(job, one, visit, states) },
  )
  const writing = states.find((s) => s.state?.writing)?.state?.writing
  const closed = running || Boolean(writing)
  return (
    <footer className="foot">
      {writing ? (
        <span role="status">{writingWords(writing)}</span>
      ) : running ? (
        <span>Writing is closed while a check runs</span>
      ) : (
        <span>{text}</span>
      )}
      {count > 0 && !closed ? (
        <Button variant="filled" onClick={() => onReview({ indicatorIds: differing, purpose: 'intended' })}>
          Review and write {settingsCount(count)}…
        </Button>
      ) : null}
      {count > 0 && !closed ? <Apart points={pointsWrittenApart(job, states)} /> : null}
      <span className="spring" />
      {count === 0 && !closed && ids.length > 0 && states.some((s) => s.state?.held) ? (
        <button
          type="button"
          className="plain-link"
          onClick={() => onReview({ indicatorIds: ids, purpose: place === 'check' ? 'as-found' : 'before-last-write' })}
        >
          Restore earlier settings…
        </button>
      ) : null}
      <span>
        <button type="button" className="plain-link" onClick={onLog}>
          Log of writes
        </button>
        {session?.logged ? <span className="second"> {session.logged}</span> : null}
      </span>
      <HistoryBar />
      {job.visits.length > 1 ? (
        <button type="button" className="plain-link" onClick={onChanges}>
          Earlier visits…
        </button>
      ) : null}
      {session?.savedAt ? (
        <span className="is-right">saved {clockText(new Date(session.savedAt))}</span>
      ) : (
        <span className="is-right">not saved yet</span>
      )}
      {openId === null ? (
        <button type="button" className="plain-link" onClick={() => openDescription('', place)}>
          Describe an indicator
        </button>
      ) : null}
      <button type="button" className="plain-link" onClick={onHelp}>
        Keys<span className="key">?</span>
      </button>
    </footer>
  )
}

function sinceFound(job: Job, point: Point, visit: Visit | undefined, states: readonly KnownIndicator[]): number | null {
  const indicator = job.indicators.find((i) => i.id === point.indicatorId)
  const profile = indicator && profileOf(job, indicator.profileId)
  return movedSinceFound({ point, indicator, profile, state: states.find((s) => s.id === indicator?.id)?.state, visit })
}

/** What would be written is no longer what Scaling shows: that is where to look first. */
function Apart({ points }: { points: readonly Point[] }) {
  const [first] = points
  if (!first) return null
  const whose = points.length === 1 ? first.tag : `${points.length} points`
  return (
    <button type="button" className="plain-link" onClick={() => open({ pointId: first.id, place: 'scaling' })}>
      <span className="attention">
        <Shape kind="triangle" />
        not what Scaling shows for {whose}
      </span>
    </button>
  )
}
