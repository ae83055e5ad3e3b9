import { Button } from '@mantine/core'
import type { Job } from '../../app/job/schema.ts'
import { clockText } from '../figures/number-text.ts'
import type { ReviewRequest } from '../review/review-request.ts'
import { stepWords } from '../review/step-words.ts'
import { useTopic } from '../state/host-context.tsx'
import { useView } from '../state/navigation.ts'
import { type KnownIndicator, useIndicators } from '../state/use-indicators.ts'

/** Tells whether the indicators hold what is intended, and is the only door to writing. */
export function FootBar({
  job,
  openId,
  onReview,
  onHelp,
}: {
  job: Job
  openId: string | null
  onReview: (request: ReviewRequest) => void
  onHelp: () => void
}) {
  const session = useTopic('session')
  const { place } = useView()
  const ids =
    openId === null
      ? job.indicators.map((i) => i.id)
      : job.points.filter((p) => p.id === openId).flatMap((p) => (p.indicatorId ? [p.indicatorId] : []))
  const states = useIndicators(ids)
  const running = job.visits.flatMap((v) => v.checks).some((c) => c.finishedAt === undefined && (openId === null || c.pointId === openId))
  const tag = job.points.find((p) => p.id === openId)?.tag
  const nothing = job.points.every((p) => (openId !== null && p.id !== openId) || Object.keys(p.intended).length === 0)
  const { text, count, differing } = sayHeld(states, tag, nothing)
  const writing = states.find((s) => s.state?.writing)?.state?.writing
  const closed = running || Boolean(writing)
  return (
    <footer className="foot">
      {writing ? (
        <span role="status">
          {stepWords(writing.step)}, {writing.done} of {writing.of}
        </span>
      ) : running ? (
        <span>Writing is closed while a check runs</span>
      ) : (
        <span>{text}</span>
      )}
      {count > 0 && !closed ? (
        <Button variant="filled" onClick={() => onReview({ indicatorIds: differing, purpose: 'intended' })}>
          Review and write {count} {count === 1 ? 'setting' : 'settings'}…
        </Button>
      ) : null}
      {count === 0 && !closed && ids.length > 0 && states.some((s) => s.state?.held) ? (
        <Button onClick={() => onReview({ indicatorIds: ids, purpose: place === 'check' ? 'as-found' : 'before-last-write' })}>
          Restore earlier settings…
        </Button>
      ) : null}
      <span className="spring" />
      {session?.savedAt ? (
        <span className="is-right">saved {clockText(new Date(session.savedAt))}</span>
      ) : (
        <span className="is-right">not saved yet</span>
      )}
      <button type="button" className="plain-link" onClick={onHelp}>
        Keys
      </button>
    </footer>
  )
}

function sayHeld(
  states: readonly KnownIndicator[],
  tag: string | undefined,
  nothingIntended: boolean,
): { text: string; count: number; differing: string[] } {
  const before = tag ? `${tag}: ` : ''
  const unread = states.filter((s) => !s.state?.held).length
  const differing = states.filter((s) => (s.state?.differs.length ?? 0) > 0)
  const count = differing.reduce((sum, s) => sum + (s.state?.differs.length ?? 0), 0)
  const ids = differing.map((s) => s.id)
  if (states.length === 0) return { text: `${before}no indicator; the point is checked with typed readings`, count: 0, differing: [] }
  if (count > 0) {
    const what = `${count} ${count === 1 ? 'setting differs' : 'settings differ'} from what is intended`
    return {
      text: tag ? `${before}${what}` : states.length === 1 ? what : `${what}, in ${differing.length} of ${states.length} indicators`,
      count,
      differing: ids,
    }
  }
  if (unread > 0)
    return {
      text: `${before}${states.length === 1 ? 'settings are not read yet' : `settings of ${unread} of ${states.length} indicators are not read yet`}`,
      count: 0,
      differing: [],
    }
  return { text: sayEqual(states.length, tag, nothingIntended), count: 0, differing: [] }
}

function sayEqual(indicators: number, tag: string | undefined, nothingIntended: boolean): string {
  if (nothingIntended) return tag ? `${tag}: nothing is intended yet; the indicator is as found` : 'Nothing is intended yet'
  if (tag) return `${tag}: the indicator holds what is intended`
  return indicators === 1 ? 'The indicator holds what is intended' : 'The indicators hold what is intended'
}
