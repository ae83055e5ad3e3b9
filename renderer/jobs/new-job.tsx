import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import { ChoiceField } from '../parts/choice-field.tsx'
import { useRequest } from '../state/host-context.tsx'
import { decimalSigns } from './job-fields.tsx'
import { fileNameFor } from './path-text.ts'
import { Trouble } from './trouble.tsx'

/** Decimal sign of the language that the user's system speaks. */
const localSign = (): '.' | ',' => ((1.5).toLocaleString().includes(',') ? ',' : '.')

const benches = [
  { value: 'real', label: 'real ones' },
  { value: 'practice', label: 'simulated, on the practice bench' },
] as const

/** An empty job, opened at once. */
export function NewJob({ onOpened }: { onOpened: () => void }) {
  const { ask, running, failure } = useRequest('job.new')
  const [name, setName] = useState('')
  const [site, setSite] = useState('')
  const [path, setPath] = useState<string | null>(null)
  const [decimalSign, setSign] = useState<'.' | ','>(localSign)
  const [on, setOn] = useState<'real' | 'practice'>('real')
  const file = path ?? fileNameFor(name)
  const make = async (event: FormEvent) => {
    event.preventDefault()
    const answer = await ask({ path: file, name: name.trim(), site: site.trim(), decimalSign, simulated: on === 'practice' })
    if (answer.ok) onOpened()
  }
  return (
    <section className="job-part">
      <h3>New job</h3>
      <form className="job-form" onSubmit={(event) => void make(event)}>
        <TextInput label="What is it called?" value={name} maxLength={80} onChange={(event) => setName(event.currentTarget.value)} />
        <TextInput label="Where is it?" value={site} maxLength={80} onChange={(event) => setSite(event.currentTarget.value)} />
        <ChoiceField label="Decimal sign" value={decimalSign} options={decimalSigns} onChoose={(sign) => sign && setSign(sign)} />
        <ChoiceField label="Indicators" value={on} options={benches} onChoose={(chosen) => chosen && setOn(chosen)} />
        <TextInput
          label="File; without a folder it goes into the folder of jobs"
          value={file}
          spellCheck={false}
          autoComplete="off"
          onChange={(event) => setPath(event.currentTarget.value)}
        />
        <span className="button-row">
          <Button type="submit" loading={running} disabled={name.trim() === '' || file.trim() === ''}>
            Make the job and open it
          </Button>
        </span>
        <Trouble failure={failure} />
      </form>
    </section>
  )
}
