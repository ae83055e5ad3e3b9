import { Button, NativeSelect, TextInput } from '@mantine/core'
import { useCallback, useState } from 'react'
import { whyNoUnit } from '../../app/job/indicator-rules.ts'
import type { Job } from '../../app/job/schema.ts'
import { clockText } from '../figures/number-text.ts'
import { Failed } from '../parts/failed.tsx'
import { Scroller } from '../parts/scroller.tsx'
import type { PlaceId } from '../places/place-ids.ts'
import { useRequest, useTopic } from '../state/host-context.tsx'
import { open } from '../state/navigation.ts'
import { BeginDescription } from './begin.tsx'
import { type Described, openDescription } from './described.ts'
import { ImportTable } from './import-table.tsx'
import { NameFound } from './name-found.tsx'
import { explainUnfit } from './problem-text.ts'
import { ProfileSoFar } from './profile-so-far.tsx'
import { RegisterSearch } from './register-search.tsx'
import { type Choice, RegisterViewer } from './register-viewer.tsx'
import { SaveProfile } from './save-profile.tsx'
import type { Seen } from './use-registers.ts'

/** From nothing to a profile that works: what the unit holds at the left, the profile so far at the right. */
export function DescribeScreen({ job, descriptionId, place }: { job: Job; descriptionId: string; place: PlaceId }) {
  const described = useTopic('descriptions')?.drafts.find((d) => d.id === descriptionId)
  return (
    <main className="describe">
      <div className="describe-head">
        <h1>{described ? described.draft.name : 'Describe an indicator'}</h1>
        {described ? <span className="second">{keptText(described)}</span> : null}
        <span className="spring" />
        {described ? (
          <button type="button" className="plain-link" onClick={() => openDescription('', place)}>
            Other descriptions
          </button>
        ) : null}
        <button type="button" className="plain-link" onClick={() => open({ pointId: null, place })}>
          All points<span className="key">Esc</span>
        </button>
      </div>
      {described ? (
        <Walk key={described.id} described={described} job={job} />
      ) : (
        <div className="describe-begin">
          <BeginDescription job={job} place={place} />
        </div>
      )}
    </main>
  )
}

/** How far it has come: a draft, a profile, or a profile with changes that are not in it yet. */
function keptText({ changedAt, revision, savedRevision }: Described): string {
  const at = clockText(new Date(changedAt))
  if (savedRevision === undefined) return `a profile under construction, kept as a draft ${at}`
  return savedRevision === revision ? 'saved as a profile of this job' : `changed since it was saved as a profile; kept as a draft ${at}`
}

const ways = [
  ['look', 'Look at a block'],
  ['search', 'Find the display'],
  ['table', 'From a table'],
] as const

function Walk({ described, job }: { described: Described; job: Job }) {
  const [choice, setChoice] = useState<Choice | null>(null)
  const [way, setWay] = useState<(typeof ways)[number][0]>('look')
  // Typed once, whichever way is looked.
  const [display, setDisplay] = useState('')
  const [readable, setReadable] = useState<number | null>(null)
  const noteReadable = useCallback((seen: Seen) => setReadable(longestRun(seen)), [])
  const { unit, draft } = described
  return (
    <div className="describe-walk">
      <div className="describe-left">
        <UnitLine described={described} job={job} />
        {unit ? (
          <>
            <div className="button-row">
              {ways.map(([id, label]) => (
                <Button key={id} aria-pressed={way === id} onClick={() => setWay(id)}>
                  {label}
                </Button>
              ))}
            </div>
            {choice ? (
              <NameFound
                key={`${choice.candidate.address} ${choice.candidate.type} ${choice.candidate.order}`}
                described={described}
                choice={choice}
                onDone={() => setChoice(null)}
              />
            ) : null}
            {way === 'search' ? <RegisterSearch {...unit} display={display} onDisplay={setDisplay} onChoose={setChoice} /> : null}
            {way === 'table' ? <ImportTable described={described} /> : null}
            <div className={way === 'look' ? 'registers-holder' : 'is-hidden'}>
              <RegisterViewer
                {...unit}
                profile={draft}
                display={display}
                onDisplay={setDisplay}
                onChoose={setChoice}
                onSeen={noteReadable}
              />
            </div>
          </>
        ) : null}
      </div>
      <aside className="describe-right" aria-label="The profile so far">
        <Scroller>
          <SaveProfile described={described} job={job} />
          <ProfileSoFar described={described} readable={readable} />
        </Scroller>
      </aside>
    </div>
  )
}

/** Where the longest run of holding registers that were read begins; null where there is none. */
function longestRun({ block, words }: Seen): number | null {
  if (block.table !== 'holding') return null
  let best = { at: -1, length: 0 }
  let run = { at: -1, length: 0 }
  words.forEach((word, i) => {
    run = word === null ? { at: -1, length: 0 } : { at: run.at < 0 ? i : run.at, length: run.length + 1 }
    if (run.length > best.length) best = run
  })
  return best.at < 0 ? null : block.from + best.at
}

/** Which unit on which bus is looked at; it need not be in the job. */
function UnitLine({ described, job }: { described: Described; job: Job }) {
  const { unit, id: descriptionId, revision } = described
  const edit = useRequest('description.edit')
  const bring = useRequest('bus.open')
  const [busId, setBusId] = useState(unit?.busId ?? job.buses[0]?.id ?? '')
  const [typed, setTyped] = useState(unit ? String(unit.unit) : '')
  const state = useTopic('bus', busId)
  const number = /^\d{1,3}$/.test(typed.trim()) ? Number(typed) : null
  const bus = job.buses.find((b) => b.id === busId)
  const wrong = typed.trim() === '' || !bus ? null : number === null || number > 255 ? 'A whole number, e.g. 5.' : whyNoUnit(number, bus)
  const isSaid = unit?.busId === busId && unit.unit === number
  if (job.buses.length === 0)
    return <p className="attention">This job has no bus yet. Add the line or network that the indicator is on first, then come back.</p>
  return (
    <>
      <form
        className="registers-head"
        onSubmit={(event) => {
          event.preventDefault()
          if (number !== null && wrong === null) void edit.ask({ descriptionId, revision, change: {}, unit: { busId, unit: number } })
        }}
      >
        <NativeSelect
          label="on"
          value={busId}
          data={job.buses.map((b) => ({ value: b.id, label: b.name }))}
          onChange={(event) => setBusId(event.currentTarget.value)}
        />
        <TextInput
          label="unit"
          placeholder="1 to 247"
          value={typed}
          error={wrong}
          onChange={(event) => setTyped(event.currentTarget.value)}
        />
        {isSaid ? null : (
          <Button type="submit" loading={edit.running} disabled={number === null || wrong !== null}>
            Look at this unit
          </Button>
        )}
        {state && (state.state === 'closed' || state.state === 'down') ? (
          <Button loading={bring.running} onClick={() => void bring.ask({ busId })}>
            Open {job.buses.find((b) => b.id === busId)?.name}
          </Button>
        ) : null}
      </form>
      {unit ? null : (
        <p className="second">Say first on which bus it is and which address it answers to. It need not be a point of the job.</p>
      )}
      {edit.failure ? <p className="lost">{explainUnfit(edit.failure)}</p> : null}
      <Failed of={bring.failure} />
    </>
  )
}
