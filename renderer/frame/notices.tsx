import { Button, TextInput } from '@mantine/core'
import { type FormEvent, type ReactNode, useState } from 'react'
import type { IndicatorView } from '../../app/contract/views.ts'
import type { Job } from '../../app/job/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { explain } from '../figures/explain.ts'
import { dateText } from '../figures/number-text.ts'
import { useSettingText } from '../parts/setting-text.ts'
import { dismissWrite, useDismissed } from '../review/dismissed.ts'
import { Outcome } from '../review/outcome.tsx'
import type { ReviewRequest } from '../review/review-request.ts'
import { keysWritten, writeName } from '../review/write-name.ts'
import { heardText } from '../setup/bus-words.ts'
import { useConnection, useRequest, useTopic } from '../state/host-context.tsx'
import { channelsOf } from '../state/profiles.ts'
import { useIndicators } from '../state/use-indicators.ts'
import { Term } from '../terms/term.tsx'

/** Lines below the header for what concerns the whole page: each says what is so and what can be done. */
export function Notices({ job, reviewing, onReview }: { job: Job; reviewing: boolean; onReview: (request: ReviewRequest) => void }) {
  const session = useTopic('session')
  const { connection, unreadable } = useConnection()
  const indicators = useIndicators(job.indicators.map((i) => i.id))
  return (
    <div className="notices">
      {connection === 'lost' ? (
        <Notice tone="lost">The connection to the host is lost; trying again. What is shown is the last that was known.</Notice>
      ) : null}
      {unreadable ? <Notice tone="lost">{unreadable}</Notice> : null}
      {session?.stopped ? <Stopped /> : null}
      <BusesDown job={job} />
      <BenchMadeNew job={job} />
      {session && session.visitId === null ? <VisitStart /> : null}
      {indicators.map(({ id, state }) =>
        state ? <IndicatorNotices key={id} id={id} job={job} state={state} reviewing={reviewing} onReview={onReview} /> : null,
      )}
    </div>
  )
}

export function Notice({ tone, children }: { tone: 'plain' | 'attention' | 'lost'; children: ReactNode }) {
  return (
    <div className={`notice ${tone === 'plain' ? '' : `is-${tone}`}`} role={tone === 'plain' ? undefined : 'status'}>
      {children}
    </div>
  )
}

function Stopped() {
  const { ask, running, failure } = useRequest('sending.resume')
  return (
    <Notice tone="attention">
      <span>
        <b>Sending is stopped.</b> Nothing is sent on any bus; values shown are growing old.
      </span>
      <Button loading={running} onClick={() => void ask({})}>
        Resume sending
      </Button>
      {failure ? <span className="lost">{explain(failure)}</span> : null}
    </Notice>
  )
}

function BusesDown({ job }: { job: Job }) {
  return job.buses.map((bus) => <BusDown key={bus.id} busId={bus.id} name={bus.name} />)
}

function BusDown({ busId, name }: { busId: string; name: string }) {
  const state = useTopic('bus', busId)
  const session = useTopic('session')
  const { ask, running, failure } = useRequest('bus.open')
  const heard = state && session ? heardText(state, session.anchor) : null
  const isUsable = state?.state === 'open' || state?.state === 'opening' || (state?.state === 'listening' && !heard)
  if (!state || session?.stopped || isUsable) return null
  return (
    <Notice tone={state.state === 'closed' ? 'plain' : 'lost'}>
      <span>
        <b>{name}</b>
        {state.state === 'listening' ? ': ' : ` is ${state.state}. `}
        {state.why} {heard}
      </span>
      {state.reopens || state.state === 'listening' ? null : (
        <Button loading={running} onClick={() => void ask({ busId })}>
          {state.state === 'halted' ? `Listen again, then send on ${name}` : `Open ${name}`}
        </Button>
      )}
      {failure ? <span className="lost">{explain(failure)}</span> : null}
    </Notice>
  )
}

/** What an earlier visit wrote and found is kept in the job, and the bench it was done on is not. */
function BenchMadeNew({ job }: { job: Job }) {
  const since = useTopic('practice')?.since
  const dismissed = useDismissed()
  const name = `bench ${since}`
  if (!job.simulated || since === undefined || dismissed.has(name) || !job.visits.some((v) => v.startedAt < since)) return null
  return (
    <Notice tone="plain">
      <span>
        <b>The practice bench is as new again.</b> Opening the job makes it anew: what earlier visits wrote to its indicators is not in them
        any more.
      </span>
      <Button onClick={() => dismissWrite(name)}>Dismiss</Button>
    </Notice>
  )
}

function VisitStart() {
  const { ask, running, failure } = useRequest('visit.start')
  const [by, setBy] = useState('')
  const start = (event: FormEvent) => {
    event.preventDefault()
    if (by.trim()) void ask({ by: by.trim() })
  }
  return (
    <Notice tone="plain">
      <form className="button-row" onSubmit={start}>
        <label htmlFor="visit-by">
          <b>Who is at the machine?</b>{' '}
          <span className="second">
            Settings and results of this{' '}
            <Term of="visit" inLabel>
              visit
            </Term>{' '}
            are kept under the name.
          </span>
        </label>
        <TextInput id="visit-by" value={by} maxLength={80} autoComplete="name" onChange={(event) => setBy(event.currentTarget.value)} />
        <Button type="submit" loading={running} disabled={!by.trim()}>
          Start the visit
        </Button>
        {failure ? <span className="lost">{explain(failure)}</span> : null}
      </form>
    </Notice>
  )
}

function IndicatorNotices({
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
  const dismissed = useDismissed()
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
      {state.lastWrite && !reviewing && !dismissed.has(JSON.stringify(state.lastWrite)) ? (
        <Notice tone={state.lastWrite.ok ? 'plain' : 'lost'}>
          <Outcome name={writeName(job, id, keysWritten(state.lastWrite))} result={state.lastWrite} channels={channels} short />
          <span className="button-row">
            {state.lastWrite.ok ? null : (
              <Button onClick={() => onReview({ indicatorIds: [id], purpose: 'before-last-write' })}>Restore…</Button>
            )}
            <Button onClick={() => dismissWrite(JSON.stringify(state.lastWrite))}>Dismiss</Button>
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
