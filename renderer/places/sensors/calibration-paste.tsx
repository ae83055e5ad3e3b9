import { Button, Textarea } from '@mantine/core'
import { useState } from 'react'
import { appliedWords } from '../../../app/applied-words.ts'
import { type CalibrationRow, calibrationTable } from '../../../app/job/calibration-table.ts'
import { quantityIn } from '../../../app/quantity/convert.ts'
import { units } from '../../../app/quantity/units.ts'
import { numberText, signedFixedText } from '../../figures/number-text.ts'
import { ChoiceField } from '../../parts/choice-field.tsx'
import { useDecimalSign } from '../../parts/decimal-sign.ts'
import { Failed } from '../../parts/failed.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointChoice } from '../../state/use-point-edit.ts'

/** The calibration table of one sensor: pasted from a spreadsheet, with every wrong row named, or shown with its deviations. */
export function CalibrationPaste({ view }: { view: PointView }) {
  const { point } = view
  const { certificates } = point.sensors
  const { quantity } = appliedWords(point)
  const sign = useDecimalSign()
  const [chosen, setChosen] = useState(0)
  const [text, setText] = useState('')
  const { put, running, failure } = usePointChoice(point.id)
  const index = Math.min(chosen, certificates.length - 1)
  const certificate = certificates[index]
  if (!certificate) return null
  const capacityUnit = certificate.capacity?.unit ?? point.unit
  const keep = (table: CalibrationRow[] | undefined) => {
    const { table: _before, ...rest } = certificate
    const next = table ? { ...rest, table } : rest
    put({ sensors: { ...point.sensors, certificates: certificates.map((c, i) => (i === index ? next : c)) } })
    setText('')
  }
  const pasted = text.trim() === '' ? null : calibrationTable(text, { decimalSign: sign, capacityUnit })
  return (
    <section className="group" aria-label="Calibration table to paste">
      {certificates.length > 1 ? (
        <ChoiceField
          label="Of"
          value={String(index)}
          options={certificates.map((c, i) => ({ value: String(i), label: c.serial ? `sensor ${i + 1}, ${c.serial}` : `sensor ${i + 1}` }))}
          onChoose={(value) => setChosen(Number(value))}
        />
      ) : null}
      {certificate.table ? (
        <TableHeld rows={certificate.table} quantity={quantity} />
      ) : (
        <p className="second">None: scaling goes by the rated output.</p>
      )}
      <Textarea
        label={`Paste ${quantity} and output from a spreadsheet`}
        placeholder={`0\t0${sign}0000\n500\t2${sign}0010`}
        autosize
        minRows={3}
        maxRows={8}
        value={text}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      {pasted && pasted.problems.length > 0 ? (
        <ul className="plain-list paste-problems" aria-label="Rows that are wrong">
          {pasted.problems.map((p) => (
            <li key={`${p.row} ${p.why}`}>
              <span>
                <b className="attention">row {p.row}</b> {p.why}
              </span>
            </li>
          ))}
        </ul>
      ) : null}
      <div className="button-row">
        <Button disabled={!pasted || pasted.problems.length > 0} loading={running} onClick={() => pasted && keep(pasted.rows)}>
          {pasted && pasted.problems.length === 0 ? `Take the ${pasted.rows.length} rows` : 'Take the rows'}
        </Button>
        {certificate.table ? <Button onClick={() => keep(undefined)}>Remove the table</Button> : null}
        <span className="second small">
          {pasted && pasted.problems.length > 0
            ? `not yet: ${wrongRowsWords(pasted.problems)}; mend it above`
            : `${units[capacityUnit].symbol} and mV/V where no unit is given; decimal sign "${sign}"`}
        </span>
      </div>
      <Failed of={failure} />
    </section>
  )
}

/** A row with two wrong cells is one row. */
export function wrongRowsWords(problems: readonly { row: number }[]): string {
  const rows = new Set(problems.map((p) => p.row)).size
  return rows === 1 ? 'one row is wrong' : `${rows} rows are wrong`
}

/** Rows as certified, each with its deviation from the line through the first and the last, in percent of their span. */
function TableHeld({ rows, quantity }: { rows: readonly CalibrationRow[]; quantity: string }) {
  const sign = useDecimalSign()
  const [first] = rows
  const points = rows.map((row) => {
    const [load, output] = [
      quantityIn(row.load, first?.load.unit ?? row.load.unit),
      quantityIn(row.output, first?.output.unit ?? row.output.unit),
    ]
    return { row, load: load.ok ? load.value.valueOf() : Number.NaN, output: output.ok ? output.value.valueOf() : Number.NaN }
  })
  const [low, high] = [points[0], points.at(-1)]
  const off = (p: (typeof points)[number]) => {
    if (!low || !high || high.load === low.load) return Number.NaN
    const straight = low.output + ((p.load - low.load) / (high.load - low.load)) * (high.output - low.output)
    return ((p.output - straight) / (high.output - low.output)) * 100
  }
  return (
    <table className="plain-table" aria-label="Calibration table">
      <thead>
        <tr>
          <th scope="col" className="is-right">
            {quantity}
          </th>
          <th scope="col" className="is-right">
            output
          </th>
          <th scope="col" className="is-right">
            off the straight line
          </th>
        </tr>
      </thead>
      <tbody>
        {points.map((p) => (
          <tr key={`${p.row.load.value} ${p.row.load.unit}`}>
            <td className="is-right nowrap">
              {numberText(p.row.load.value, sign)} <span className="unit">{units[p.row.load.unit].symbol}</span>
            </td>
            <td className="is-right nowrap">
              {numberText(p.row.output.value, sign)} <span className="unit">{units[p.row.output.unit].symbol}</span>
            </td>
            <td className="is-right nowrap">
              {Number.isFinite(off(p)) ? signedFixedText(off(p), 3, sign) : '–'} <span className="unit">%</span>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
