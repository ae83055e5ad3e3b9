import { Button, Checkbox, NumberInput } from '@mantine/core'
import { useState } from 'react'
import type { HostCalls } from '../../app/contract/contract.ts'
import type { Bus, Indicator, Job } from '../../app/job/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { Failed } from '../parts/failed.tsx'
import { Shape } from '../parts/quantity.tsx'
import { Outcome } from '../review/outcome.tsx'
import { useRequest, useTopic } from '../state/host-context.tsx'
import { channelsOf } from '../state/profiles.ts'

type Looked = Extract<HostCalls['address.look']['reply'], { ok: true }>['value']

/** New units get their addresses one by one: connected alone, looked for at the factory address, given theirs, asked again. */
export function NewUnits({ job, bus }: { job: Job; bus: Bus }) {
  const here = job.indicators.filter((i) => i.busId === bus.id)
  return (
    <section className="stacked" aria-label={`Addresses for new units on ${bus.name}`}>
      <p>
        New units often come with the same address. Connect one new unit at a time, and describe it here as an indicator with the address
        that it is to get.
      </p>
      {here.length === 0 ? <p className="second">No indicator is on this bus yet: add one first.</p> : null}
      {here.map((indicator) => (
        <NewUnit key={indicator.id} job={job} indicator={indicator} />
      ))}
    </section>
  )
}

function NewUnit({ job, indicator }: { job: Job; indicator: Indicator }) {
  const view = useTopic('indicator', indicator.id)
  const look = useRequest('address.look')
  const give = useRequest('address.give')
  const [looked, setLooked] = useState<Looked | null>(null)
  const [at, setAt] = useState<number | undefined>(undefined)
  const [agrees, setAgrees] = useState(false)
  const [given, setGiven] = useState<Extract<HostCalls['address.give']['reply'], { ok: true }>['value'] | null>(null)
  const answers = view?.answering === 'yes'
  const askFor = async () => {
    setGiven(null)
    setAgrees(false)
    const answer = await look.ask({ indicatorId: indicator.id, ...(at === undefined ? {} : { at }) })
    setLooked(answer.ok ? answer.value : null)
  }
  const giveIt = async (lookId: string) => {
    const answer = await give.ask({ lookId, agreesWithPanel: agrees })
    setLooked(null)
    if (answer.ok) setGiven(answer.value)
  }
  const mustCompare = looked?.identity?.outcome === 'cannot-tell'
  const may = looked?.lookId != null && looked.identity?.outcome !== 'contradicted' && (!mustCompare || agrees)
  return (
    <div className="stacked new-unit">
      <div className="button-row">
        <b>{indicator.name}</b>
        <span className="second">
          is to have address {indicator.unit}
          {answers ? '; it answers there already' : ''}
        </span>
        {answers && !given ? null : (
          <>
            <NumberInput
              aria-label={`Address where the unit for ${indicator.name} answers now`}
              placeholder="factory"
              className="short-input"
              value={at ?? ''}
              min={1}
              max={247}
              allowDecimal={false}
              clampBehavior="strict"
              onChange={(typed) => setAt(typeof typed === 'number' ? typed : undefined)}
            />
            <Button size="compact-sm" loading={look.running} disabled={give.running} onClick={() => void askFor()}>
              Look for the new unit
            </Button>
          </>
        )}
      </div>
      <Failed of={look.failure} />
      {looked ? (
        <div className="stacked" role="status">
          <p>
            {looked.answers === 'one' ? (
              <>
                One unit answers at address {looked.at}
                {looked.identity?.outcome === 'confirmed' ? ', and it is what the profile says.' : '.'}
              </>
            ) : (
              <span className="attention">
                <Shape kind="triangle" />
                {looked.answers === 'nobody'
                  ? `Nobody answers at address ${looked.at}.`
                  : `What answers at address ${looked.at} is not clear.`}
              </span>
            )}{' '}
            {looked.advice}
          </p>
          {looked.identity?.outcome === 'contradicted' ? (
            <p className="lost">It is another model than the profile of {indicator.name} describes; it keeps its address.</p>
          ) : null}
          {mustCompare ? (
            <Checkbox
              checked={agrees}
              onChange={(event) => setAgrees(event.currentTarget.checked)}
              label={`The front panel shows the same: ${looked.identity?.compareWithPanel.map((c) => `${settingWords(c.register).toLowerCase()} ${c.value}`).join(', ')}`}
            />
          ) : null}
          {looked.lookId !== null ? (
            <div className="button-row">
              <Button loading={give.running} disabled={!may} onClick={() => void giveIt(looked.lookId ?? '')}>
                Give it address {looked.to}
              </Button>
              <span className="second">
                writes to the unit; it answers at {looked.to} from then on, and cannot be put back over a lost line
              </span>
            </div>
          ) : null}
        </div>
      ) : null}
      {give.failure ? (
        <Outcome
          name={indicator.name}
          result={give.failure.kind === 'not-reached' ? { unreached: give.failure.why } : { ok: false, failure: give.failure }}
          channels={channelsOf(job, indicator.id)}
        />
      ) : null}
      {given ? (
        <p role="status">
          <b>
            {indicator.name} answers at {indicator.unit}.
          </b>{' '}
          {given.answersAtOld === 'nobody' ? 'Nobody answers at the old address any more: the next unit can be connected.' : null}
          {given.answersAtOld === 'one' ? 'Another unit still answers at the old address: it may be the next one.' : null}
          {given.answersAtOld === 'unclear' ? (
            <span className="attention">What answers at the old address is not clear; look at the line.</span>
          ) : null}
        </p>
      ) : null}
    </div>
  )
}
