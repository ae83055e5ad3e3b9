import { Button, Modal } from '@mantine/core'
import { type ReactNode, useEffect, useState } from 'react'
import { besidesWords } from '../../app/contract/preview-words.ts'
import type { IndicatorView, WritePreview } from '../../app/contract/views.ts'
import { isFor } from '../../app/job/intended.ts'
import type { Job } from '../../app/job/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { rulesFirst } from '../../app/safety-words.ts'
import { sentence } from '../../app/sentence.ts'
import { explain } from '../figures/explain.ts'
import { pressed } from '../frame/key-table.ts'
import { useStopSending } from '../frame/stop-sending.ts'
import { useSettingText } from '../parts/setting-text.ts'
import { useHost, useTopic } from '../state/host-context.tsx'
import { channelsOf } from '../state/profiles.ts'
import { inWords } from '../table/choice.ts'
import { consequenceOf, scalingConsequence } from './consequence.ts'
import { dismissWrite } from './dismissed.ts'
import { Outcome } from './outcome.tsx'
import { begunHere, type Purpose, type ReviewRequest } from './review-request.ts'
import { writingWords } from './step-words.ts'
import { type ReviewState, useReviews, type WriteResult } from './use-reviews.ts'
import { keysWritten, writeName } from './write-name.ts'

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
      if (lastWrite) dismissWrite(JSON.stringify(lastWrite))
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
                Write {settings(count)} to {writable.length === 1 ? 'one indicator' : `${inWords(writable.length)} indicators`}
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

const settings = (n: number) => `${n} ${n === 1 ? 'setting' : 'settings'}`
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

function IndicatorReview(props: IndicatorReviewProps) {
  const { job, indicatorId, state, none, several, onFollow, onEnded, onWrite, onAgain, onClose } = props
  const view = useTopic('indicator', indicatorId)
  const indicator = job.indicators.find((i) => i.id === indicatorId)
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
        <div className="caution is-lost" role="alert">
          {explain(state.failure)}
        </div>
      ) : null}
      {state.at === 'shown' || state.at === 'queued' || state.at === 'writing' ? (
        <Preview job={job} preview={state.preview} none={none}>
          {state.at !== 'shown' ? (
            <div className="button-row">
              <WritingNow view={state.at === 'writing' ? view : undefined} />
              {several ? null : <Button onClick={stop}>Stop sending</Button>}
            </div>
          ) : (
            <div className="button-row">
              {state.preview.writes.length > 0 ? (
                <Button variant={several ? 'default' : 'filled'} onClick={onWrite}>
                  Write {settings(state.preview.writes.length)} to {name}
                </Button>
              ) : null}
              {several ? null : <Button onClick={onClose}>Close, write nothing</Button>}
            </div>
          )}
        </Preview>
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

function Preview({ job, preview, none, children }: { job: Job; preview: WritePreview; none: string; children: ReactNode }) {
  const state = useTopic('indicator', preview.indicatorId)
  const plain = useSettingText()
  const points = job.points.filter((p) => p.indicatorId === preview.indicatorId)
  const follows = points.flatMap((p) => {
    const text = scalingConsequence(job, p, state, preview.writes)
    return text ? [{ tag: p.tag, channel: p.channel, text }] : []
  })
  const channels = channelsOf(job, preview.indicatorId)
  const { unlocks, saves, restarts } = preview.procedure
  const sealed = job.indicators.find((i) => i.id === preview.indicatorId)?.sealed
  const steps = [
    unlocks && !sealed ? 'unlocks the indicator' : null,
    'writes and reads back',
    saves ? 'saves in the indicator' : preview.unsaved.length === 0 ? 'kept at once by the indicator' : null,
    restarts ? 'restarts it' : null,
  ].filter((s) => s !== null)
  if (preview.writes.length === 0)
    return (
      <>
        <p>{none}</p>
        {children}
      </>
    )
  return (
    <>
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">setting</th>
            <th scope="col" className="is-right">
              held
            </th>
            <th scope="col" aria-label="becomes" />
            <th scope="col">becomes</th>
            <th scope="col">what follows</th>
          </tr>
        </thead>
        <tbody>
          {preview.writes.map((d) => (
            <tr key={d.key}>
              <td>{settingWords(d.key, channels)}</td>
              <td className="is-right">
                {plain(d.held)} {d.held === null ? null : <span className="unit">{d.unit}</span>}
              </td>
              <td className="second">→</td>
              <td>
                <b>{plain(d.intended)}</b> <span className="unit">{d.unit}</span>
              </td>
              <td className="second">
                {consequenceOf(
                  d,
                  follows.some((f) => isFor(d.key, f.channel)),
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {follows.map((f) => (
        <p key={f.tag}>
          <b>{f.tag}:</b> {f.text}
        </p>
      ))}
      {preview.moves.map((m) => (
        <p key={m.when} className="attention">
          {settingWords(m.when)} also moves {m.moves.map((k) => settingWords(k).toLowerCase()).join(', ')}. {m.why}
        </p>
      ))}
      {preview.cautions.map((c) => (
        <p key={c} className="caution">
          {c}
        </p>
      ))}
      {sealed ? (
        <p className="caution">
          <b>
            {unlocks ? 'Unlocks and writes' : 'Writes'} to a sealed indicator ({sealed.seals}).
          </b>{' '}
          {sealed.broken
            ? 'Re-verification is due afterwards.'
            : 'Writing needs a name, a reason and the seal numbers first: Settings, Break the seal.'}
        </p>
      ) : null}
      <p className="second">
        {sentence(steps.join(', '))}. {besidesWords(preview)} The old values are kept on disk first and can be put back. {rulesFirst}
      </p>
      {children}
    </>
  )
}
