import { Button, FileButton, NativeSelect, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { clockText, dateText } from '../figures/number-text.ts'
import { Failed } from '../parts/failed.tsx'
import type { PlaceId } from '../places/place-ids.ts'
import { useRequest, useTopic } from '../state/host-context.tsx'
import { openDescription } from './described.ts'
import { explainUnfit } from './problem-text.ts'

const nothing = ''

/** Where a description begins, is carried on, or comes in as a file. */
export function BeginDescription({ job, place }: { job: Job; place: PlaceId }) {
  const descriptions = useTopic('descriptions')
  const begin = useRequest('description.start')
  const remove = useRequest('description.remove')
  const bring = useRequest('profile.import')
  const [name, setName] = useState('')
  const [copyOf, setCopyOf] = useState(nothing)
  const [brought, setBrought] = useState<{ profileId: string } | null>(null)
  const [waiting, setWaiting] = useState<string | null>(null)
  const known = [...job.profiles, ...bundledProfiles.values()]
  const drafts = descriptions?.drafts ?? []
  const start = async (event: FormEvent) => {
    event.preventDefault()
    const answer = await begin.ask({ name: name.trim(), ...(copyOf === nothing ? {} : { copyOf }) })
    if (answer.ok) openDescription(answer.value.descriptionId, place)
  }
  const take = async (text: string, replace: boolean) => {
    const answer = await bring.ask({ text, replace })
    setBrought(answer.ok ? answer.value : null)
    setWaiting(!answer.ok && answer.failure.kind === 'refused-request' && answer.failure.where === 'id' && !replace ? text : null)
  }

  return (
    <div className="columns">
      <section>
        <h2>A model that nobody has described</h2>
        <p className="second">
          Look at its registers while its display shows a number, and say which of them agrees. Nothing is written to it from here.
        </p>
        <form className="stacked" onSubmit={start}>
          <TextInput
            label="What is it called?"
            placeholder="e.g. Panel indicator of the press"
            value={name}
            maxLength={80}
            data-autofocus
            onChange={(event) => setName(event.currentTarget.value)}
          />
          <NativeSelect
            label="Begin with"
            value={copyOf}
            data={[{ value: nothing, label: 'nothing' }, ...known.map((p) => ({ value: p.id, label: `a copy of ${p.name}` }))]}
            onChange={(event) => setCopyOf(event.currentTarget.value)}
          />
          <div className="button-row">
            <Button type="submit" variant="filled" loading={begin.running} disabled={name.trim() === ''}>
              Begin to describe it
            </Button>
          </div>
          <Failed of={begin.failure} />
        </form>
      </section>
      <section>
        <h2>Under way</h2>
        {drafts.length === 0 ? (
          <p className="second">None. A description is kept from its first word on, and can be left at any time.</p>
        ) : null}
        <ul className="found-list">
          {drafts.map((d) => (
            <li key={d.id}>
              <span className="line">
                <button type="button" className="plain-link" onClick={() => openDescription(d.id, place)}>
                  {d.draft.name}
                </button>
                <button
                  type="button"
                  className="plain-link"
                  aria-label={`Remove the description of ${d.draft.name}`}
                  onClick={() => void remove.ask({ descriptionId: d.id, revision: d.revision })}
                >
                  remove
                </button>
              </span>
              <span className="second small">
                {d.draft.registers.length} registers, changed {dateText(new Date(d.changedAt))}, {clockText(new Date(d.changedAt))}
                {d.savedRevision === d.revision ? ', saved' : ''}
              </span>
            </li>
          ))}
        </ul>
        {descriptions?.unreadable.map((u) => (
          <p key={u.file} className="lost">
            {u.file} cannot be read: {u.why} It is left where it is.
          </p>
        ))}
        <Failed of={remove.failure} />
      </section>
      <section>
        <h2>A profile file</h2>
        <p className="second">One that somebody has described elsewhere, named like X.profile.json.</p>
        <div className="button-row">
          <FileButton accept=".json,application/json" onChange={(file) => void file?.text().then((text) => take(text, false))}>
            {(props) => (
              <Button {...props} loading={bring.running}>
                Bring in a profile file…
              </Button>
            )}
          </FileButton>
          {waiting === null ? null : <Button onClick={() => void take(waiting, true)}>Replace the one that is there</Button>}
        </div>
        {brought ? <p>{brought.profileId} is in the job now.</p> : null}
        {bring.failure ? <p className="lost">{explainUnfit(bring.failure)}</p> : null}
        {job.profiles.length > 0 ? <p className="second">Described in this job: {job.profiles.map((p) => p.name).join(', ')}</p> : null}
      </section>
    </div>
  )
}
