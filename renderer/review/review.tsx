import { Button, Modal } from '@mantine/core'
import { useEffect, useState } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { pressed } from '../frame/key-table.ts'
import { useStopSending } from '../frame/stop-sending.ts'
import { useHost } from '../state/host-context.tsx'
import { inWords } from '../table/choice.ts'
import { dismiss } from './dismissed.ts'
import { IndicatorReview } from './indicator-review.tsx'
import { begunHere, type Purpose, type ReviewRequest } from './review-request.ts'
import { settingsCount } from './step-words.ts'
import { type ReviewState, useReviews } from './use-reviews.ts'

/** The only place where something is written: what is held, what it becomes, what follows from it; then the write and how it ended. */
export function Review({ job, request, onClose }: { job: Job; request: ReviewRequest; onClose: () => void }) {
  const { store } = useHost()
  const [purpose, setPurpose] = useState(request.purpose)
  const { states, set, prepare, commit, endAfterThese } = useReviews(job, request.indicatorIds)
  useEffect(() => {
    const free = request.indicatorIds.filter((id) => !(purpose === request.purpose && begunHere(id)))
    void prepare(free, purpose)
  }, [prepare, request, purpose])
  const all = request.indicatorIds.flatMap((id) => states.get(id) ?? [])
  const several = request.indicatorIds.length > 1
  const writable = request.indicatorIds.filter((id) => writesOf(states.get(id)).length > 0)
  const count = writable.reduce((sum, id) => sum + writesOf(states.get(id)).length, 0)
  const busy = all.some((s) => s.at === 'writing' || s.at === 'queued' || s.at === 'followed')
  const close = () => {
    for (const id of request.indicatorIds) {
      const lastWrite = states.get(id)?.at === 'ended' ? store.topic('indicator', id)?.lastWrite : undefined
      if (lastWrite) dismiss(JSON.stringify(lastWrite))
    }
    onClose()
  }

  return (
    <Modal
      opened
      onClose={close}
      title="Review and write"
      size="min(920px, 94vw)"
      closeButtonProps={{ 'aria-label': 'Close' }}
      closeOnClickOutside={false}
      closeOnEscape={false}
      onKeyDown={(event) => {
        if (pressed(event, 'back')) close()
      }}
    >
      {all.every((s) => s.at === 'ended') && all.length > 0 ? null : (
        <fieldset className="button-row bare" aria-label="What to write">
          {purposes.map((p) => (
            <Button key={p.id} aria-pressed={purpose === p.id} disabled={busy} onClick={() => setPurpose(p.id)}>
              {p.label}
            </Button>
          ))}
        </fieldset>
      )}
      {several && (writable.length > 0 || busy) ? (
        <div className="button-row review-all">
          {busy ? (
            <WritingAll states={all} onEnd={endAfterThese} />
          ) : (
            <>
              <Button variant="filled" onClick={() => void commit(writable)}>
                Write {settingsCount(count)} to {writable.length === 1 ? 'one indicator' : `${inWords(writable.length)} indicators`}
              </Button>
              <Button onClick={onClose}>Close, write nothing</Button>
              <span className="second">Buses side by side, on a bus one after another; each ends by itself.</span>
            </>
          )}
        </div>
      ) : null}
      {request.indicatorIds.map((id) => (
        <IndicatorReview
          key={id}
          job={job}
          indicatorId={id}
          state={states.get(id) ?? { at: 'reading' }}
          none={purposes.find((p) => p.id === purpose)?.none ?? ''}
          several={several}
          onFollow={() => set(id, { at: 'followed' })}
          onEnded={(result) => set(id, { at: 'ended', result })}
          onWrite={() => void commit([id])}
          onAgain={() => void prepare([id], purpose)}
          onClose={close}
        />
      ))}
      {several && all.some((s) => s.at === 'ended') && !busy ? (
        <div className="button-row">
          <Button onClick={close}>Close</Button>
        </div>
      ) : null}
    </Modal>
  )
}

const writesOf = (state: ReviewState | undefined) => (state?.at === 'shown' ? state.preview.writes : [])

function WritingAll({ states, onEnd }: { states: readonly ReviewState[]; onEnd: () => void }) {
  const { stop } = useStopSending()
  const queued = states.filter((s) => s.at === 'queued').length
  const ended = states.filter((s) => s.at === 'ended').length
  const writing = states.filter((s) => s.at === 'writing').length
  return (
    <>
      <b role="status">
        {writing} being written, {queued} queued, {ended} ended
      </b>
      <Button disabled={queued === 0} onClick={onEnd}>
        Leave out the rest
      </Button>
      <Button onClick={stop}>Stop sending</Button>
    </>
  )
}

const purposes: readonly { id: Purpose; label: string; none: string }[] = [
  { id: 'intended', label: 'What is intended', none: 'The indicator holds what is intended. There is nothing to write.' },
  { id: 'before-last-write', label: 'As before the last write', none: 'The indicator holds what it held before the last write.' },
  { id: 'as-found', label: 'As found', none: 'The indicator holds what was found at the start of this visit.' },
]
