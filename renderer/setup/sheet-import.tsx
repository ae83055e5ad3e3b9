import { Button, FileButton, NativeSelect, Textarea } from '@mantine/core'
import { useState } from 'react'
import { type ColumnMapping, type PointField, pointField } from '../../app/contract/import-calls.ts'
import type { Job } from '../../app/job/schema.ts'
import { fieldNames } from './field-names.ts'
import { ImportTrial } from './import-trial.tsx'
import { useImport } from './use-import.ts'

const example = 'Tag\tName\tMaximum load (kg)\tScale interval\tIndicator\tChannel'

/** Points from rows copied out of a spreadsheet, or from a CSV file; tried first, column by column and row by row. */
export function SheetImport({ job, onDone }: { job: Job; onDone: () => void }) {
  const [sheet, setSheet] = useState('')
  const [columns, setColumns] = useState<ColumnMapping>({})
  const [unreadable, setUnreadable] = useState<string | null>(null)
  const trial = useImport(sheet.trim() === '' ? null : { sheet, columns })
  const taken = trial.tried?.columns ?? []

  const take = (text: string) => {
    setSheet(text)
    setColumns({})
    setUnreadable(null)
  }
  const readFile = async (file: File | null) => {
    if (!file) return
    const text = await file.text()
    if (text.includes('\uFFFD'))
      setUnreadable(`${file.name} is not saved as UTF-8. Save it as "CSV UTF-8", or copy the cells and paste them.`)
    else take(text)
  }
  const map = (heading: string, field: PointField | null) => setColumns((now) => mapped(now, taken, heading, field))

  return (
    <>
      <div className="import-source">
        <Textarea
          className="paste-box"
          aria-label="Rows copied from a spreadsheet, with their headings"
          placeholder={`Paste the rows here, headings first, for instance\n${example}`}
          value={sheet}
          spellCheck={false}
          onChange={(event) => take(event.currentTarget.value)}
        />
        <FileButton accept=".csv,.txt,.tsv,text/csv,text/plain" onChange={(file) => void readFile(file)}>
          {(props) => <Button {...props}>Read a CSV file…</Button>}
        </FileButton>
      </div>
      {unreadable ? (
        <p className="lost" role="alert">
          {unreadable}
        </p>
      ) : null}
      {taken.length > 0 && !trial.added ? (
        <fieldset className="import-columns">
          <legend className="second">Each column is taken for</legend>
          {taken.map(({ heading, field }) => (
            <NativeSelect
              key={heading}
              label={heading || 'no heading'}
              value={field ?? ''}
              data={[{ value: '', label: 'not read' }, ...pointField.options.map((f) => ({ value: f, label: fieldNames[f] }))]}
              onChange={(event) => map(heading, (event.currentTarget.value || null) as PointField | null)}
            />
          ))}
        </fieldset>
      ) : null}
      <ImportTrial job={job} trial={trial} onDone={onDone} />
    </>
  )
}

/** The choices after one more of them: what the heading was taken for before is read from nowhere, unless chosen elsewhere. */
export function mapped(
  now: ColumnMapping,
  taken: readonly { heading: string; field: PointField | null }[],
  heading: string,
  field: PointField | null,
): ColumnMapping {
  const before = taken.find((t) => t.heading === heading)?.field
  return { ...now, ...(before ? { [before]: null } : {}), ...(field ? { [field]: heading } : {}) }
}
