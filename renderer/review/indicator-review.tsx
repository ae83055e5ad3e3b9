import { Button } from '@mantine/core'
import { useEffect } from 'react'
import type { IndicatorView } from '../../app/contract/views.ts'
import type { Job } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { ResumeSending } from '../frame/resume-sending.tsx'
import { useStopSending } from '../frame/stop-sending.ts'
import { useTopic } from '../state/host-context.tsx'
import { channelsOf } from '../state/profiles.ts'
import { Outcome } from './outcome.tsx'
import { settingsCount, writingWords } from './step-words.ts'
import type { ReviewState, WriteResult } from './use-reviews.ts'
import { keysWritten, writeName } from './write-name.ts'
import { WritePreviewed } from './write-previewed.tsx'

type IndicatorReviewProps = {
  job: Job
  indicatorId: string
  state: ReviewState
  none: string
  /** Others are reviewed with it: writing it alone is not the main thing. */
  several: boolean
  /** It is being written to already; and how that ended. */
  onFollow: () => void
  onEnded: (result: WriteResult) => void
  onWrite: () => void
  onAgain: () => void
  onClose: () => void
}

/** One indicator of a review: what a write would do, the write as it goes on, and how it ended. */
export function IndicatorReview(props: IndicatorReviewProps) {
  const { job, indicatorId, state, none, several, onFollow, onEnded, onWrite, onAgain, onClose } = props
  const view = useTopic('indicator', indicatorId)
  const indicator = job.indicators.find((i) => i.id === indicatorId)
  const stopped = useTopic('session')?.stopped ?? false
  const { stop } = useStopSending()
  const keys = 'preview' in state ? state.preview.writes.map((d) => d.key) : state.at === 'ended' ? keysWritten(state.result) : []
  const name = writeName(job, indicatorId, keys)
  const writtenTo = Boolean(view?.writing)
  const notKnown = state.at === 'ended' && 'unreached' in state.result
  const unaware = writtenTo && (state.at === 'reading' || state.at === 'shown' || state.at === 'refused' || notKnown)
  const over = state.at === 'followed' && view !== undefined && !writtenTo
  const result = view?.lastWrite
  useEffect(() => {
    if (unaware) onFollow()
    if (over) onEnded(result ?? { unreached: 'How the write ended is not known; look at the log of writes.' })
  })

  return (
    <section className="review" aria-label={name}>
      <h2>
        {name} <span className="second">{indicator?.name}</span>
      </h2>
      {state.at === 'reading' ? <p role="status">Reading the indicator again…</p> : null}
      {state.at === 'refused' ? (
        <>
          <div className="caution is-lost" role="alert">
            {explain(state.failure)}
          </div>
          <div className="button-row">
            {stopped ? <ResumeSending then={onAgain} /> : <Button onClick={onAgain}>Read it again</Button>}
            {several ? null : <Button onClick={onClose}>Close, write nothing</Button>}
          </div>
        </>
      ) : null}
      {state.at === 'shown' || state.at === 'queued' || state.at === 'writing' ? (
        <WritePreviewed job={job} preview={state.preview} none={none}>
          {state.at !== 'shown' ? (
            <div className="button-row">
              <WritingNow view={state.at === 'writing' ? view : undefined} />
              {several ? null : <Button onClick={stop}>Stop sending</Button>}
            </div>
          ) : (
            <div className="button-row">
              {state.preview.writes.length > 0 ? (
                <Button variant={several ? 'default' : 'filled'} onClick={onWrite}>
                  Write {settingsCount(state.preview.writes.length)} to {name}
                </Button>
              ) : null}
              {several ? null : <Button onClick={onClose}>Close, write nothing</Button>}
            </div>
          )}
        </WritePreviewed>
      ) : null}
      {state.at === 'followed' ? (
        <div className="button-row">
          <WritingNow view={view} />
          {several ? null : <Button onClick={stop}>Stop sending</Button>}
        </div>
      ) : null}
      {state.at === 'ended' ? (
        <div role="status" className="stacked">
          <Outcome name={name} result={state.result} channels={channelsOf(job, indicatorId)} />
          <div className="button-row">
            {several ? null : <Button onClick={onClose}>Close</Button>}
            {'ok' in state.result && state.result.ok ? null : <Button onClick={onAgain}>Review again</Button>}
          </div>
        </div>
      ) : null}
    </section>
  )
}

function WritingNow({ view }: { view: IndicatorView | undefined }) {
  return (
    <span role="status">
      <b>{view?.writing ? writingWords(view.writing) : 'Queued'}</b>{' '}
      <span className="second">
        Editing and commands are closed meanwhile. Stop sending leaves the write open, to be finished or put back.
      </span>
    </span>
  )
}
