import { Button, Modal } from '@mantine/core'
import { useEffect } from 'react'
import type { WritePreview } from '../../app/contract/views.ts'
import type { Job } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { numberText } from '../figures/number-text.ts'
import { settingWords } from '../figures/setting-words.ts'
import type { ReviewRequest } from '../frame/workbench.tsx'
import { stepWords } from '../frame/foot-bar.tsx'
import { useTopic } from '../state/host-context.tsx'
import { Outcome } from './outcome.tsx'
import { type Purpose, type ReviewState, useReview } from './use-review.ts'

const titles: Record<Purpose, string> = {
  intended: 'Review and write',
  'before-last-write': 'Restore what was held before the last write',
  'as-found': 'Restore the settings as found',
}

/** The only door to writing: what would be written, what it touches, the cautions; then how it goes and how it ended. */
export function Review({ job, request, onClose }: { job: Job; request: ReviewRequest; onClose: () => void }) {
  return (
    <Modal
      opened
      onClose={onClose}
      title={titles[request.purpose]}
      size={720}
      transitionProps={{ duration: 0 }}
      closeButtonProps={{ 'aria-label': 'Close' }}
    >
      {request.indicatorIds.map((id) => (
        <OneIndicator key={id} job={job} indicatorId={id} purpose={request.purpose} onClose={onClose} />
      ))}
    </Modal>
  )
}

function OneIndicator({ job, indicatorId, purpose, onClose }: { job: Job; indicatorId: string; purpose: Purpose; onClose: () => void }) {
  const { state, prepare, commit } = useReview(indicatorId)
  const view = useTopic('indicator', indicatorId)
  const name = job.indicators.find((i) => i.id === indicatorId)?.name ?? indicatorId
  useEffect(() => void prepare(purpose), [prepare, purpose])
  return (
    <section className="review">
      <h2>{name}</h2>
      <Body
        state={state}
        name={name}
        writing={view?.writing ?? null}
        onWrite={(preview) => void commit(preview)}
        onAgain={() => void prepare(purpose)}
        onClose={onClose}
      />
    </section>
  )
}

type BodyProps = {
  state: ReviewState
  name: string
  writing: { step: Parameters<typeof stepWords>[0]; done: number; of: number } | null
  onWrite: (preview: WritePreview) => void
  onAgain: () => void
  onClose: () => void
}

function Body({ state, name, writing, onWrite, onAgain, onClose }: BodyProps) {
  switch (state.at) {
    case 'reading':
      return <p role="status">Reading the settings again…</p>
    case 'refused':
      return (
        <>
          <p className="lost">{explain(state.failure)}</p>
          <div className="button-row">
            <Button onClick={onAgain}>Read again</Button>
          </div>
        </>
      )
    case 'shown':
      return <Preview preview={state.preview} onWrite={() => onWrite(state.preview)} onClose={onClose} />
    case 'writing':
      return <p role="status">{writing ? `${stepWords(writing.step)}, ${writing.done} of ${writing.of}` : 'Starting'}…</p>
    case 'ended':
      return (
        <>
          <Outcome name={name} result={state.result} />
          <div className="button-row">
            <Button onClick={onClose}>Close</Button>
            {'ok' in state.result && state.result.ok ? null : <Button onClick={onAgain}>Review again</Button>}
          </div>
        </>
      )
  }
}

function Preview({ preview, onWrite, onClose }: { preview: WritePreview; onWrite: () => void; onClose: () => void }) {
  const count = preview.writes.length
  if (count === 0)
    return (
      <>
        <p>Nothing differs: the indicator holds these values already.</p>
        <div className="button-row">
          <Button onClick={onClose}>Close</Button>
        </div>
      </>
    )
  const { unlocks, saves, restarts } = preview.procedure
  const steps = [
    unlocks ? 'unlocks' : '',
    'writes',
    'reads back',
    saves ? 'saves' : '',
    restarts ? 'restarts the indicator' : '',
    'reads everything again',
  ].filter(Boolean)
  return (
    <>
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Setting</th>
            <th scope="col" className="is-right">
              held
            </th>
            <th scope="col" className="is-right">
              becomes
            </th>
          </tr>
        </thead>
        <tbody>
          {preview.writes.map((d) => (
            <tr key={d.key}>
              <td>{settingWords(d.key)}</td>
              <td className="is-right">{said(d.held)}</td>
              <td className="is-right">
                <b>{said(d.intended)}</b> <span className="unit">{d.unit}</span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="second small">
        Touches {preview.touches.map((t) => t.tag).join(', ')}. It {steps.join(', ')}; on failure the old values are put back.
      </p>
      {preview.moves.map((m) => (
        <p key={m.when} className="attention small">
          Changing {settingWords(m.when)} also moves {m.moves.map((key) => settingWords(key)).join(', ')}. {m.why}
        </p>
      ))}
      <div className="caution">
        {preview.cautions.map((c) => (
          <p key={c}>{c}</p>
        ))}
      </div>
      <div className="button-row">
        <Button variant="filled" onClick={onWrite}>
          Write {count} {count === 1 ? 'setting' : 'settings'}
        </Button>
        <Button onClick={onClose}>Not now</Button>
      </div>
    </>
  )
}

const said = (text: string | null) => (text === null ? 'no number' : /^-?\d+(\.\d+)?$/.test(text) ? numberText(text) : text)
