import { Button } from '@mantine/core'
import { useState } from 'react'
import { signalState } from '../chain/reading-text.ts'
import { fixedText, numberText, signedFixedText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'
import type { Command } from './commands.tsx'

/** Switches the indicator's shunt on and off, and compares the step it makes in the measured signal with the stated one. */
export function ShuntCommand(props: { view: PointView; blocked: string | null; running: boolean; give: (command: Command) => void }) {
  const { view, blocked, running, give } = props
  const { point, job, live } = view
  const sign = job.decimalSign
  const [before, setBefore] = useState<{ value: number; unit: string } | null>(null)
  const signal = signalState(view)
  const measured = signal?.origin === 'measured' ? signal : null
  const stated = point.measured.shunt?.stated
  const on = live?.state === 'fresh' && live.sample.status.includes('shunt-on')
  const step = before && measured && before.unit === measured.unit ? measured.value - before.value : null
  const expected = stated ? `should add ${numberText(stated.value, sign)} ${stated.unit}` : 'its size is not stated for this point'
  const turnOn = () => {
    setBefore(measured)
    give('shunt-on')
  }
  const turnOff = () => {
    setBefore(null)
    give('shunt-off')
  }
  if (on || before)
    return (
      <div className="command">
        <Button disabled={blocked !== null && !on} loading={running} onClick={turnOff}>
          Shunt off
        </Button>
        <span className="attention">
          {on ? 'Shunt is on: the reading is false. ' : ''}
          {step === null ? '' : `It adds ${signedFixedText(step, 5, sign)} ${measured?.unit}`}
          {step !== null && stated && stated.unit === measured?.unit
            ? `, ${fixedText((step / Number(stated.value)) * 100, 2, sign)} % of the stated ${numberText(stated.value, sign)}`
            : ''}
        </span>
      </div>
    )
  return (
    <div className="command">
      <Button disabled={blocked !== null} loading={running} onClick={turnOn}>
        Shunt on
      </Button>
      <span className="second">{blocked === null ? `${expected}; reading and outputs jump` : `not now: ${blocked}`}</span>
    </div>
  )
}
