import { TextInput } from '@mantine/core'
import { type FocusEvent, useState } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { pressed } from '../frame/key-table.ts'
import { ChoiceField } from '../parts/choice-field.tsx'
import { useRequest } from '../state/host-context.tsx'
import { Trouble } from './trouble.tsx'

/** Name, site and decimal sign of the open job. */
export function JobFields({ job }: { job: Job }) {
  const { ask, failure } = useRequest('job.edit')
  const put = (change: { name?: string; site?: string; decimalSign?: '.' | ',' }) => void ask({ revision: job.revision, change })
  return (
    <section className="job-part">
      <h3>This job</h3>
      <JobText key={`name ${job.name}`} label="Name" held={job.name} put={(name) => name !== '' && put({ name })} />
      <JobText key={`site ${job.site}`} label="Site" held={job.site} put={(site) => put({ site })} />
      <ChoiceField
        label="Decimal sign"
        value={job.decimalSign}
        options={decimalSigns}
        onChoose={(sign) => sign && put({ decimalSign: sign })}
      />
      <Trouble failure={failure} />
    </section>
  )
}

export const decimalSigns = [
  { value: '.', label: 'point, 2.0010' },
  { value: ',', label: 'comma, 2,0010' },
] as const

function JobText({ label, held, put }: { label: string; held: string; put: (typed: string) => void }) {
  const [typed, setTyped] = useState(held)
  const leave = (event: FocusEvent<HTMLInputElement>) => {
    const text = event.currentTarget.value.trim()
    if (text !== held) put(text)
  }
  return (
    <TextInput
      label={label}
      value={typed}
      maxLength={80}
      error={label === 'Name' && typed.trim() === '' ? 'A job needs a name.' : null}
      onChange={(event) => setTyped(event.currentTarget.value)}
      onBlur={leave}
      onKeyDown={(event) => pressed(event, 'put') && event.currentTarget.blur()}
    />
  )
}
