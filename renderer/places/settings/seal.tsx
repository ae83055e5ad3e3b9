import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { Indicator, Point, Visit } from '../../../app/job/schema.ts'
import { units } from '../../../app/quantity/units.ts'
import { clockText, dateText, numberText } from '../../figures/number-text.ts'
import { useDecimalSign } from '../../parts/decimal-sign.ts'
import { Failed } from '../../parts/failed.tsx'
import { useRequest, useTopic } from '../../state/host-context.tsx'
import { Term } from '../../terms/term.tsx'

/** A sealed indicator is read-only until somebody answers for it: name, reason, and the seal numbers as they stand on it. */
export function Seal({
  indicator,
  visit,
  verified,
}: {
  indicator: Indicator
  visit: Visit | undefined
  /** The point that is looked at, where it is one. */
  verified?: Point
}) {
  const sign = useDecimalSign()
  const revision = useTopic('job')?.revision ?? 0
  const { ask, running, failure } = useRequest('indicator.edit')
  const [open, setOpen] = useState(false)
  const [reason, setReason] = useState('')
  const [seals, setSeals] = useState('')
  if (!indicator.sealed) return null
  const { sealed } = indicator
  if (sealed.broken) {
    const at = new Date(sealed.broken.at)
    return (
      <p className="caution">
        Seal {sealed.seals} broken by {sealed.broken.by}, {dateText(at)}, {clockText(at)}: {sealed.broken.reason}. Re-verification is due;
        the handover sheet says so. Once it is sealed again, give the new seal numbers at the indicator: Buses, Edit.
      </p>
    )
  }
  const answerFor = (event: FormEvent) => {
    event.preventDefault()
    const change = { sealed: { seals, broken: { by: visit?.by ?? '', reason } } }
    void ask({ revision, indicatorId: indicator.id, change })
  }
  return (
    <section className="caution" aria-label="Seal">
      <p>
        <b>
          <Term of="seal">Sealed</Term> or legal for trade: read-only.
        </b>{' '}
        Breaking the seal makes re-verification due and may be allowed to authorised persons only. Local law decides.
        {verified?.verificationInterval === undefined ? null : (
          <>
            {' '}
            {verified.tag} is verified for <Term of="verification scale interval">e</Term> ={' '}
            {numberText(verified.verificationInterval, sign)} {units[verified.unit].symbol}.
          </>
        )}
      </p>
      {open ? (
        <form className="seal-form" onSubmit={answerFor}>
          <TextInput
            label="Seal numbers, read off the indicator"
            value={seals}
            onChange={(e) => setSeals(e.currentTarget.value)}
            autoComplete="off"
          />
          <TextInput label="Reason" value={reason} onChange={(e) => setReason(e.currentTarget.value)} autoComplete="off" />
          <div className="button-row">
            <Button type="submit" loading={running} disabled={!visit || reason.trim() === '' || seals.trim() === ''}>
              Allow writing, as {visit?.by ?? 'nobody named yet'}
            </Button>
            <Button onClick={() => setOpen(false)}>Leave it sealed</Button>
          </div>
          {visit ? null : <p>not yet: say who is at the machine first</p>}
        </form>
      ) : (
        <Button onClick={() => setOpen(true)}>Break the seal…</Button>
      )}
      <Failed of={failure} />
    </section>
  )
}
