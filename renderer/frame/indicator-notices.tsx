import { Button } from '@mantine/core'
import type { IndicatorView } from '../../app/contract/views.ts'
import type { Job } from '../../app/job/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { explain } from '../figures/explain.ts'
import { dateText } from '../figures/number-text.ts'
import { useSettingText } from '../parts/setting-text.ts'
import { dismiss, useIsDismissed } from '../review/dismissed.ts'
import { Outcome } from '../review/outcome.tsx'
import type { ReviewRequest } from '../review/review-request.ts'
import { keysWritten, writeName } from '../review/write-name.ts'
import { useRequest } from '../state/host-context.tsx'
import { channelsOf } from '../state/profiles.ts'
import { Notice } from './notice.tsx'

/** What concerns one indicator: a write that was interrupted, who it is, how its last write ended. */
export function IndicatorNotices({
  id,
  job,
  state,
  reviewing,
  onReview,
}: {
  id: string
  job: Job
  state: IndicatorView
  reviewing: boolean
  onReview: (request: ReviewRequest) => void
}) {
  const isDismissed = useIsDismissed()
  const channels = channelsOf(job, id)
  const name = writeName(job, id)
  const openName = writeName(job, id, state.openWrite?.wanted.map((d) => d.key) ?? [])
  return (
    <>
      {state.openWrite ? <OpenWriteNotice id={id} name={openName} channels={channels} state={state} /> : null}
      {state.identity.outcome === 'cannot-tell' ? <Vouch id={id} name={name} state={state} /> : null}
      {state.identity.outcome === 'contradicted' ? (
        <Notice tone="lost">
          <span>
            <b>{name}:</b> this is another indicator than the job describes, writing is closed.{' '}
            {state.identity.tests
              .filter((t) => !t.agrees)
              .map((t) => `${settingWords(t.register)} should be ${t.expected}, it is ${t.got}.`)
              .join(' ')}{' '}
            Check unit address and wiring, or the profile that the job names.
          </span>
        </Notice>
      ) : null}
      {state.lastWrite && !reviewing && !isDismissed(JSON.stringify(state.lastWrite)) ? (
        <Notice tone={state.lastWrite.ok ? 'plain' : 'lost'}>
          <Outcome name={writeName(job, id, keysWritten(state.lastWrite))} result={state.lastWrite} channels={channels} short />
          <span className="button-row">
            {state.lastWrite.ok ? null : (
              <Button onClick={() => onReview({ indicatorIds: [id], purpose: 'before-last-write' })}>Restore…</Button>
            )}
            <Button onClick={() => dismiss(JSON.stringify(state.lastWrite))}>Dismiss</Button>
          </span>
        </Notice>
      ) : null}
    </>
  )
}

function OpenWriteNotice({ id, name, channels, state }: { id: string; name: string; channels: number; state: IndicatorView }) {
  const { ask, running, failure } = useRequest('journal.resolve')
  const plain = useSettingText()
  const { openWrite } = state
  if (!openWrite) return null
  const resolve = (how: 'restore' | 'complete' | 'leave') => void ask({ indicatorId: id, journalId: openWrite.journalId, how })
  return (
    <Notice tone="attention">
      <span>
        <b>{name}:</b> a write by {openWrite.by} on {dateText(new Date(openWrite.startedAt))} was interrupted; some settings may hold new
        values, some old ones.{' '}
        {openWrite.wanted
          .map((d) => `${settingWords(d.key, channels)} ${d.held ? plain(d.held) : 'unknown'} → ${plain(d.intended)}`)
          .join('; ')}
        .
      </span>
      <span className="button-row">
        <Button loading={running} onClick={() => resolve('restore')}>
          Put the old values back
        </Button>
        <Button loading={running} onClick={() => resolve('complete')}>
          Finish the write
        </Button>
        <Button loading={running} onClick={() => resolve('leave')}>
          Leave it as it is
        </Button>
      </span>
      {failure ? (
        <Outcome
          name={name}
          result={failure.kind === 'not-reached' ? { unreached: failure.why } : { ok: false, failure }}
          channels={channels}
          short
        />
      ) : null}
    </Notice>
  )
}

function Vouch({ id, name, state }: { id: string; name: string; state: IndicatorView }) {
  const { ask, running, failure } = useRequest('indicator.vouch')
  return (
    <Notice tone="attention">
      <span>
        <b>{name}:</b> nothing read proves which indicator this is. Compare with its front panel:{' '}
        {state.identity.compareWithPanel.map((c, i) => (
          <span key={c.register} className="nowrap">
            {i > 0 ? ' · ' : ''}
            {settingWords(c.register).toLowerCase()} <b>{c.value}</b>
          </span>
        ))}
      </span>
      <span className="button-row">
        <Button loading={running} onClick={() => void ask({ indicatorId: id, agrees: true })}>
          The panel shows the same
        </Button>
        <Button loading={running} onClick={() => void ask({ indicatorId: id, agrees: false })}>
          It differs
        </Button>
      </span>
      {failure ? <span className="lost">{explain(failure)}</span> : null}
    </Notice>
  )
}
