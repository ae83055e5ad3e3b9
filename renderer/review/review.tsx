import { Button, Modal } from '@mantine/core'
import { type ReactNode, useEffect, useState } from 'react'
import type { WritePreview } from '../../app/contract/views.ts'
import type { Job } from '../../app/job/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { explain } from '../figures/explain.ts'
import { useStopSending } from '../frame/stop-sending.ts'
import { useSettingText } from '../parts/setting-text.ts'
import { useTopic } from '../state/host-context.tsx'
import { consequenceOf, scalingConsequence } from './consequence.ts'
import { dismissWrite } from './dismissed.ts'
import { Outcome } from './outcome.tsx'
import type { ReviewRequest } from './review-request.ts'
import { stepWords } from './step-words.ts'
import { type Purpose, useReview } from './use-review.ts'

/** The only place where something is written: what is held, what it becomes, what follows from it; then the write and how it ended. */
export function Review({ job, request, onClose }: { job: Job; request: ReviewRequest; onClose: () => void }) {
  return (
    <Modal
      opened
      onClose={onClose}
      title="Review and write"
      size="min(920px, 94vw)"
      closeButtonProps={{ 'aria-label': 'Close' }}
      closeOnClickOutside={false}
      closeOnEscape={false}
      onKeyDown={(event) => {
        if (event.key === 'Escape' && !event.shiftKey) onClose()
      }}
    >
      {request.indicatorIds.map((id) => (
        <IndicatorReview key={id} job={job} indicatorId={id} first={request.purpose} onClose={onClose} />
      ))}
    </Modal>
  )
}

const purposes: readonly { id: Purpose; label: string; none: string }[] = [
  { id: 'intended', label: 'What is intended', none: 'The indicator holds what is intended. There is nothing to write.' },
  { id: 'before-last-write', label: 'As before the last write', none: 'The indicator holds what it held before the last write.' },
  { id: 'as-found', label: 'As found', none: 'The indicator holds what was found at the start of this visit.' },
]

function IndicatorReview({ job, indicatorId, first, onClose }: { job: Job; indicatorId: string; first: Purpose; onClose: () => void }) {
  const { state, prepare, commit } = useReview(indicatorId)
  const [purpose, setPurpose] = useState(first)
  const view = useTopic('indicator', indicatorId)
  const indicator = job.indicators.find((i) => i.id === indicatorId)
  useEffect(() => void prepare(purpose), [prepare, purpose])
  const busy = state.at === 'writing'
  const { stop } = useStopSending()
  const tags = job.points.filter((p) => p.indicatorId === indicatorId).map((p) => p.tag)
  const name = tags.join(', ') || (indicator?.name ?? indicatorId)

  return (
    <section className="review" aria-label={name}>
      <h2>
        {name} <span className="second">{indicator?.name}</span>
      </h2>
      {state.at === 'ended' ? null : (
        <fieldset className="button-row bare" aria-label="What to write">
          {purposes.map((p) => (
            <Button key={p.id} aria-pressed={purpose === p.id} disabled={busy} onClick={() => setPurpose(p.id)}>
              {p.label}
            </Button>
          ))}
        </fieldset>
      )}
      {state.at === 'reading' ? <p role="status">Reading the indicator again…</p> : null}
      {state.at === 'refused' ? (
        <div className="caution is-lost" role="alert">
          {explain(state.failure)}
        </div>
      ) : null}
      {state.at === 'shown' || state.at === 'writing' ? (
        <Preview job={job} preview={state.preview} none={purposes.find((p) => p.id === purpose)?.none ?? ''}>
          {busy ? (
            <div className="button-row">
              <span role="status">
                <b>{view?.writing ? `${stepWords(view.writing.step)}, ${view.writing.done} of ${view.writing.of}` : 'Queued'}</b>{' '}
                <span className="second">
                  Editing and commands are closed meanwhile. Stop sending leaves the write open, to be finished or put back.
                </span>
              </span>
              <Button onClick={stop}>Stop sending</Button>
            </div>
          ) : (
            <div className="button-row">
              {state.preview.writes.length > 0 ? (
                <Button variant="filled" onClick={() => void commit(state.preview)}>
                  Write {state.preview.writes.length} {state.preview.writes.length === 1 ? 'setting' : 'settings'} to {name}
                </Button>
              ) : null}
              <Button onClick={onClose}>Close, write nothing</Button>
            </div>
          )}
        </Preview>
      ) : null}
      {state.at === 'ended' ? (
        <div role="status" className="stacked">
          <Outcome name={name} result={state.result} />
          <div className="button-row">
            <Button
              onClick={() => {
                if (view?.lastWrite) dismissWrite(JSON.stringify(view.lastWrite))
                onClose()
              }}
            >
              Close
            </Button>
            {'ok' in state.result && state.result.ok ? null : <Button onClick={() => void prepare(purpose)}>Review again</Button>}
          </div>
        </div>
      ) : null}
    </section>
  )
}

function Preview({ job, preview, none, children }: { job: Job; preview: WritePreview; none: string; children: ReactNode }) {
  const state = useTopic('indicator', preview.indicatorId)
  const plain = useSettingText()
  const points = job.points.filter((p) => p.indicatorId === preview.indicatorId)
  const follows = points.flatMap((p) => {
    const text = scalingConsequence(job, p, state, preview.writes)
    return text ? [{ tag: p.tag, text }] : []
  })
  const { unlocks, saves, restarts } = preview.procedure
  const steps = [
    unlocks ? 'unlocks the indicator' : null,
    'writes and reads back',
    saves ? 'saves in the indicator' : null,
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
              <td>{settingWords(d.key)}</td>
              <td className="is-right">{plain(d.held)}</td>
              <td className="second">→</td>
              <td>
                <b>{plain(d.intended)}</b> <span className="unit">{d.unit}</span>
              </td>
              <td className="second">{consequenceOf(d)}</td>
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
      <p className="second">
        Touches {preview.touches.map((t) => t.tag).join(', ')}; {steps.join(', ')}. The old values are kept on disk first and can be put
        back.
      </p>
      {children}
    </>
  )
}
