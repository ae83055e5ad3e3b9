import { Button, NativeSelect, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { Panel } from '../parts/panel.tsx'
import { useRequest } from '../state/host-context.tsx'
import { closePanel } from '../table/below.ts'
import { type Scope, scopeWords } from '../table/choice.ts'
import { OnePoint } from './one-point.tsx'
import { RemovePoints } from './remove-points.tsx'
import { severalFields } from './several-edit-fields.ts'

/** One value for several points: shown for each of them as it is and as it would be; all are changed or none. */
export function SeveralEdit({ job, scope }: { job: Job; scope: Scope }) {
  const { ask, running, failure } = useRequest('points.edit')
  const [field, setField] = useState(severalFields[0])
  const [typed, setTyped] = useState('')
  const [changed, setChanged] = useState<string | null>(null)
  const words = scopeWords(scope, job)
  const points = scope.ids.flatMap((id) => job.points.filter((p) => p.id === id))
  if (!field) return null
  const only = points.length === 1 ? points[0] : undefined
  const rows = points.map((point) => ({ point, read: typed.trim() === '' ? null : field.read(typed, point, job.decimalSign) }))
  const edits = rows.flatMap(({ point, read }) => (read?.ok ? [{ pointId: point.id, change: read.value }] : []))
  const ready = rows.length > 0 && edits.length === rows.length
  const label = field.label.charAt(0).toLowerCase() + field.label.slice(1)

  const apply = async (event: FormEvent) => {
    event.preventDefault()
    if (!ready) return
    const answer = await ask({ revision: job.revision, edits })
    if (!answer.ok) return
    setChanged(`The ${label} of ${words} is changed in this job. Nothing was written to an indicator.`)
    setTyped('')
  }

  return (
    <Panel title={`Edit ${words}`} onClose={closePanel}>
      {only ? <OnePoint job={job} point={only} /> : null}
      <form className="button-row" onSubmit={apply}>
        <NativeSelect
          aria-label="What to change"
          value={field.id}
          data={severalFields.map((f) => ({ value: f.id, label: f.label }))}
          onChange={(event) => {
            const next = severalFields.find((f) => f.id === event.currentTarget.value)
            setField(next ?? field)
            setTyped(next?.options?.[0] ?? '')
            setChanged(null)
          }}
        />
        {field.options ? (
          <NativeSelect
            aria-label={field.label}
            value={typed}
            data={field.options.map((o) => ({ value: o, label: o }))}
            onChange={(event) => setTyped(event.currentTarget.value)}
          />
        ) : (
          <TextInput
            aria-label={`${field.label} of ${words}`}
            placeholder={field.example}
            value={typed}
            autoComplete="off"
            className="wide-input"
            onChange={(event) => {
              setTyped(event.currentTarget.value)
              setChanged(null)
            }}
          />
        )}
        <Button type="submit" disabled={!ready} loading={running}>
          Change the {label} of {words}
        </Button>
        {failure ? (
          <span className="lost" role="alert">
            {explain(failure)}
          </span>
        ) : null}
        {changed ? <span role="status">{changed}</span> : null}
      </form>
      <table className="plain-table several-table">
        <thead>
          <tr>
            <th scope="col">Measuring point</th>
            <th scope="col">now</th>
            <th scope="col">becomes</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ point, read }) => (
            <tr key={point.id}>
              <td>
                <b>{point.tag}</b> <span className="second">{point.name}</span>
              </td>
              <td>{field.shown(point, job.decimalSign)}</td>
              <td>
                {read === null ? (
                  <span className="second">as it is</span>
                ) : read.ok ? (
                  <b>{field.shown({ ...point, ...(read.value as Partial<typeof point>) }, job.decimalSign)}</b>
                ) : (
                  <span className="lost">{read.failure}</span>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <RemovePoints job={job} scope={scope} />
    </Panel>
  )
}
