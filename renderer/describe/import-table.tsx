import { Button, FileButton, Textarea } from '@mantine/core'
import { useState } from 'react'
import { tableHeadings } from '../../app/profile/from-csv.ts'
import { useRequest } from '../state/host-context.tsx'
import type { Described } from './described.ts'
import { explainUnfit } from './problem-text.ts'

type RowError = { row: number; column: string; message: string }

/** Registers from the table of a manual, pasted or as a CSV file; all of them or, with what is wrong by row, none. */
export function ImportTable({ described }: { described: Described }) {
  const bring = useRequest('description.import-table')
  const [sheet, setSheet] = useState('')
  const [errors, setErrors] = useState<readonly RowError[]>([])
  const [added, setAdded] = useState<number | null>(null)
  const take = async (text: string) => {
    setAdded(null)
    setErrors([])
    const answer = await bring.ask({ descriptionId: described.id, revision: described.revision, sheet: text })
    if (!answer.ok) return
    setErrors(answer.value.errors)
    if (answer.value.errors.length > 0) return setSheet(text)
    setAdded(answer.value.added)
    setSheet('')
  }
  return (
    <section className="stacked" aria-label="Registers from a table">
      <p className="second">
        A heading row, then one register a row. Headings: {tableHeadings.join(', ')}. A page makes it evidence of the manual.
      </p>
      <Textarea
        label="Table, pasted from a spreadsheet"
        className="paste-box"
        spellCheck={false}
        value={sheet}
        onChange={(event) => setSheet(event.currentTarget.value)}
      />
      <div className="button-row">
        <Button loading={bring.running} disabled={sheet.trim() === ''} onClick={() => void take(sheet)}>
          Put these into the profile
        </Button>
        <FileButton accept=".csv,text/csv,text/plain" onChange={(file) => void file?.text().then(take)}>
          {(props) => <Button {...props}>From a CSV file…</Button>}
        </FileButton>
      </div>
      {added === null ? null : <p>{added} registers were added.</p>}
      {errors.length > 0 ? (
        <>
          <p className="lost">Nothing was added; {errors.length} to mend:</p>
          <ul className="problems">
            {errors.slice(0, 30).map((e) => (
              <li key={`${e.row} ${e.column} ${e.message}`}>
                <b>
                  row {e.row}
                  {e.column ? `, ${e.column}` : ''}
                </b>{' '}
                {e.message}
              </li>
            ))}
          </ul>
        </>
      ) : null}
      {bring.failure ? <p className="lost">{explainUnfit(bring.failure)}</p> : null}
    </section>
  )
}
