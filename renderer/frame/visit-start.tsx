import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { Job, Visit } from '../../app/job/schema.ts'
import { visitGoing } from '../../app/job/visit-going.ts'
import { explain } from '../figures/explain.ts'
import { clockText, dateText } from '../figures/number-text.ts'
import { useRequest, useTopic } from '../state/host-context.tsx'
import { sharedState } from '../state/shared-state.ts'
import { Term } from '../terms/term.tsx'
import { Notice } from './notice.tsx'

/** Whether another visit is to begin while one is going on, as when somebody else takes over. */
export const anotherVisit = sharedState(false)

/** Who is at the machine: asked where no visit is going on, and where another is to begin. */
export function VisitStart({ job }: { job: Job }) {
  const session = useTopic('session')
  const another = anotherVisit.use()
  const { ask, running, failure } = useRequest('visit.start')
  const [by, setBy] = useState('')
  if (!session || (session.visitId !== null && !another)) return null
  const going = session.visitId === null ? visitGoing(job.visits, new Date().toISOString()) : undefined
  const first = session.visitId === null && !going
  const begin = async (request: { by: string; resume?: boolean }) => {
    const begun = await ask(request)
    if (!begun.ok) return
    setBy('')
    anotherVisit.set(false)
  }
  const start = (event: FormEvent) => {
    event.preventDefault()
    if (by.trim()) void begin({ by: by.trim() })
  }
  return (
    <Notice tone="plain">
      {going ? (
        <span className="button-row">
          <b>Go on with the visit of {momentText(going)}?</b>
          <Button loading={running} onClick={() => void begin({ by: going.by, resume: true })}>
            Go on as {going.by}
          </Button>
        </span>
      ) : null}
      <form className="button-row" onSubmit={start}>
        <label htmlFor="visit-by">
          <Asked first={first} going={going !== undefined} />
        </label>
        <TextInput id="visit-by" value={by} maxLength={80} autoComplete="name" onChange={(event) => setBy(event.currentTarget.value)} />
        <Button type="submit" loading={running} disabled={!by.trim()}>
          {first ? 'Start the visit' : 'Start another visit'}
        </Button>
        {session.visitId === null ? null : <Button onClick={() => anotherVisit.set(false)}>Stay in this visit</Button>}
        {failure ? <span className="lost">{explain(failure)}</span> : null}
      </form>
    </Notice>
  )
}

function Asked({ first, going }: { first: boolean; going: boolean }) {
  const visit = (
    <Term of="visit" inLabel>
      visit
    </Term>
  )
  if (going) return <span className="second">or another {visit}, with as found taken anew, by</span>
  if (first)
    return (
      <>
        <b>Who is at the machine?</b> <span className="second">Settings and results of this {visit} are kept under the name.</span>
      </>
    )
  return (
    <>
      <b>Who is at the machine now?</b> <span className="second">In another {visit} as found is taken anew.</span>
    </>
  )
}

function momentText({ startedAt }: Visit): string {
  const began = new Date(startedAt)
  return `${dateText(began)}, ${clockText(began).slice(0, 5)}`
}
