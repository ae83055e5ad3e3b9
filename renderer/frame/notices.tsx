import { Button } from '@mantine/core'
import type { Job } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { dismiss, useIsDismissed } from '../review/dismissed.ts'
import type { ReviewRequest } from '../review/review-request.ts'
import { heardText } from '../setup/bus-words.ts'
import { useConnection, useRequest, useTopic } from '../state/host-context.tsx'
import { useIndicators } from '../state/use-indicators.ts'
import { IndicatorNotices } from './indicator-notices.tsx'
import { Notice } from './notice.tsx'
import { ResumeSending } from './resume-sending.tsx'
import { notStopped } from './stop-sending.ts'
import { VisitStart } from './visit-start.tsx'

/** Lines below the header for what concerns the whole page: each says what is so and what can be done. */
export function Notices({ job, reviewing, onReview }: { job: Job; reviewing: boolean; onReview: (request: ReviewRequest) => void }) {
  const session = useTopic('session')
  const { connection, unreadable } = useConnection()
  const indicators = useIndicators(job.indicators.map((i) => i.id))
  return (
    <div className="notices">
      {connection === 'lost' ? (
        <Notice tone="lost">
          <span>
            <b>The connection to the host is lost; trying again.</b> What is shown is the last that was known, and nothing on a bus can be
            stopped from here: pull the adapter where that is needed. A host that was started anew has a new address.
          </span>
        </Notice>
      ) : null}
      {connection === 'silent' ? (
        <Notice tone="lost">
          <span>
            <b>The host is silent.</b> What is shown is the last that was known. Stop sending is passed on, and nothing says whether it is
            heard: pull the adapter where that is needed. A host that is held up goes on by itself; one that stays silent has to be started
            anew.
          </span>
        </Notice>
      ) : null}
      <NotStopped />
      {unreadable ? <Notice tone="lost">{unreadable}</Notice> : null}
      {session?.stopped ? <Stopped /> : null}
      <BusesDown job={job} />
      <BenchMadeNew job={job} />
      <VisitStart job={job} />
      {indicators.map(({ id, state }) =>
        state ? <IndicatorNotices key={id} id={id} job={job} state={state} reviewing={reviewing} onReview={onReview} /> : null,
      )}
    </div>
  )
}

/** The one request whose failure nobody may miss. */
function NotStopped() {
  const ended = notStopped.use()
  if (ended === null) return null
  return (
    <Notice tone="lost">
      <span>
        <b>{ended.says}</b> {ended.why}
      </span>
      <Button onClick={() => notStopped.set(null)}>Dismiss</Button>
    </Notice>
  )
}

function Stopped() {
  return (
    <Notice tone="attention">
      <span>
        <b>Sending is stopped.</b> Nothing is sent on any bus; values shown are growing old.
      </span>
      <ResumeSending />
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
  const isDismissed = useIsDismissed()
  const name = `bench ${since}`
  if (!job.simulated || since === undefined || isDismissed(name) || !job.visits.some((v) => v.startedAt < since)) return null
  return (
    <Notice tone="plain">
      <span>
        <b>The practice bench is as new again.</b> Opening the job makes it anew: what earlier visits wrote to its indicators is not in them
        any more.
      </span>
      <Button onClick={() => dismiss(name)}>Dismiss</Button>
    </Notice>
  )
}
