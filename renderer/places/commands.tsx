import { Button } from '@mantine/core'
import { useState } from 'react'
import { appliedWords } from '../../app/applied-words.ts'
import type { HostCalls } from '../../app/contract/contract.ts'
import { takenOffBy } from '../../app/evaluation/zero-setting.ts'
import { makeSafe } from '../../app/safety-words.ts'
import { unitMeant } from '../../app/scaling/reading-settings.ts'
import { readingState } from '../chain/reading-text.ts'
import { decimalsOf, fixedText, numberText } from '../figures/number-text.ts'
import { Failed } from '../parts/failed.tsx'
import { useRequest, useTopic } from '../state/host-context.tsx'
import type { PointView } from '../state/point-view.ts'
import { Term } from '../terms/term.tsx'
import { ShuntCommand } from './shunt-command.tsx'

export type Command = HostCalls['indicator.command']['request']['command']
type Confirmed = HostCalls['indicator.command']['request']['confirmed']

/** Commands that act on the indicator, each with what it will do, or why it cannot be done now. */
export function IndicatorCommands({ view }: { view: PointView }) {
  const { point, job, live, profile } = view
  const sign = job.decimalSign
  const { ask, running, failure } = useRequest('indicator.command')
  const [asked, setAsked] = useState<Command | null>(null)
  const stopped = useTopic('session')?.stopped ?? false
  const blocked = whyNot(view, stopped)
  const sample = live?.state === 'fresh' ? live.sample : null
  const gross = sample?.gross ?? sample?.reading ?? null
  const share = gross === null ? 0 : Math.abs(Number(gross)) / Number(point.maximumLoad)
  const amount = gross === null ? '' : `${numberText(gross, sign)} ${point.unit}`
  const percent = fixedText(share * 100, 1, sign)
  const words = appliedWords(point)
  const net = sample?.status.includes('net') ?? false
  const give = (command: Command, confirmed?: Confirmed) => {
    setAsked(null)
    void ask({ pointId: point.id, command, ...(confirmed ? { confirmed } : {}) })
  }
  const taken = takenOffBy('zero', point, { text: gross, unit: unitMeant(sample?.unit ?? '') })
  const tared = takenOffBy('tare', point, { text: gross, unit: unitMeant(sample?.unit ?? '') })
  const confirm = taken.ok ? taken.value.confirm : []
  const vented = confirm.includes('vented')
  const takes = taken.ok ? taken.value.amount : null
  const agree = () => ({ ...(takes === null ? {} : { amount: takes }), ...(vented ? { vented: true as const } : {}) })
  const press = (command: 'zero' | 'tare') => (confirm.length > 0 ? setAsked(command) : give(command))

  return (
    <section className="commands" aria-label="Commands to the indicator">
      <h2>Acts on the indicator</h2>
      {has(profile, 'zero') ? (
        <div className="command">
          <Button disabled={blocked !== null || !taken.ok} loading={running} onClick={() => press('zero')}>
            Zero
          </Button>
          <span className="second">
            {!taken.ok
              ? taken.failure
              : blocked !== null
                ? `not now: ${blocked}`
                : `takes ${amount} off the gross value, ${percent} % of ${words.maximum}`}
          </span>
        </div>
      ) : null}
      {(asked === 'zero' || asked === 'tare') && blocked === null ? (
        <div className="caution" role="alertdialog" aria-label={`Confirm ${asked}`}>
          <p>
            This takes {amount} off the reading of {point.tag}, {percent} % of {words.maximum}.{' '}
            {vented
              ? `Is it ${words.steps[0]}? Under pressure it would read nought and not be so.`
              : asked === 'zero'
                ? `Is the point ${words.steps[0]}?`
                : 'Is this all that is to be left out of the net value?'}
          </p>
          <p className="second small">{makeSafe}</p>
          <div className="button-row">
            <Button onClick={() => give(asked, agree())}>
              {asked === 'zero' ? 'Zero' : 'Tare'} {point.tag}
              {vented ? `, it is ${words.steps[0]}` : ''}
            </Button>
            <Button onClick={() => setAsked(null)}>Cancel</Button>
          </div>
        </div>
      ) : null}
      {has(profile, 'tare') ? (
        <div className="command">
          <Button disabled={blocked !== null || !taken.ok} loading={running} onClick={() => press('tare')}>
            Tare
          </Button>
          <span className="second">
            {!tared.ok ? (
              tared.failure
            ) : blocked !== null ? (
              `not now: ${blocked}`
            ) : (
              <>
                <Term of="net">net</Term> starts at {(0).toFixed(decimalsOf(point.scaleInterval)).replace('.', sign)};{' '}
                <Term of="gross">gross</Term> stays
              </>
            )}
          </span>
        </div>
      ) : null}
      {net && has(profile, 'clear-tare') ? (
        <div className="command">
          <Button disabled={blocked !== null} loading={running} onClick={() => give('clear-tare')}>
            Clear tare
          </Button>
          <span className="second">shows gross again, {amount}</span>
        </div>
      ) : null}
      {has(profile, 'shunt-on') ? <ShuntCommand view={view} blocked={blocked} running={running} give={give} /> : null}
      {(['zero', 'tare', 'shunt-on'] as const).every((c) => !has(profile, c)) ? (
        <p className="second">The profile of this indicator names no command.</p>
      ) : null}
      <Failed of={failure} />
    </section>
  )
}

const has = (profile: PointView['profile'], command: Command) => profile?.commands[command] !== undefined

function whyNot(view: PointView, stopped: boolean): string | null {
  if (stopped) return 'sending is stopped'
  if (!view.live || view.live.state === 'never-read') return 'there is no reading yet'
  if (view.live.state === 'stale') return 'the reading is stale'
  if (view.state?.writing) return 'settings are being written'
  if (view.runningCheck) return 'a check is running'
  const { given } = readingState(view)
  return given === 'steady' ? null : `the reading is ${given === 'moving' ? 'not steady' : given}`
}
