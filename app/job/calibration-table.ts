import { kindOf, quantityIn } from '../quantity/convert.ts'
import type { DecimalSign } from '../quantity/format.ts'
import { parseQuantity } from '../quantity/parse.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import { unitsNamed } from '../quantity/unit-names.ts'
import { type Dimension, type UnitId, units } from '../quantity/units.ts'

export type CalibrationRow = { load: QuantityText; output: QuantityText }
export type PastedTable = { rows: CalibrationRow[]; problems: { row: number; why: string }[] }

const outputs: readonly Dimension[] = ['bridge-signal', 'voltage']
const bracket = /[([]([^)\]]*)[)\]]/

/** Cells as spreadsheets copy them (tab), as CSV in half of Europe (semicolon), or as columns of text; never the comma, which may be a decimal sign. */
const cellsOf = (line: string) => line.split(line.includes('\t') ? '\t' : line.includes(';') ? ';' : / {2,}/).map((cell) => cell.trim())

function unitOfHeading(heading: string | undefined, dimensions: readonly Dimension[]): UnitId | undefined {
  const written = bracket.exec(heading ?? '')?.[1] ?? heading ?? ''
  const [unit, ...more] = unitsNamed(written).filter((id) => dimensions.includes(units[id].dimension))
  return more.length === 0 ? unit : undefined
}

/**
 * A calibration table as it is pasted from a spreadsheet: load and output in each row, a heading with units if there is one.
 * Numbers without a unit are in that of the heading, else of the capacity and mV/V. Rows are counted as pasted, from 1; a row that is wrong gives no row.
 */
export function calibrationTable(text: string, options: { decimalSign: DecimalSign; capacityUnit: UnitId }): PastedTable {
  const { decimalSign, capacityUnit } = options
  const loads = kindOf(capacityUnit)
  const lines = text.split(/\r?\n/).map((line, i) => ({ row: i + 1, cells: cellsOf(line) }))
  const filled = lines.filter(({ cells }) => cells.some((cell) => cell !== ''))
  const [first] = filled
  const heading = first?.cells.slice(0, 2).every((cell) => !/^[+\-\u2212]?[.,]?\d/.test(cell)) ? first : undefined
  const [loadUnit, outputUnit] = [
    unitOfHeading(heading?.cells[0], loads) ?? capacityUnit,
    unitOfHeading(heading?.cells[1], outputs) ?? 'mV/V',
  ]
  const table: PastedTable = { rows: [], problems: [] }
  const taken: { row: number; load: QuantityText; output: QuantityText }[] = []
  for (const { row, cells } of filled) {
    if (row === heading?.row) continue
    const wrong = (why: string) => table.problems.push({ row, why })
    const extra = cells.slice(2).find((cell) => cell !== '')
    if (cells.length < 2) wrong('It has one cell; a load and an output are needed, set apart by a tab or a semicolon.')
    else if (extra !== undefined) wrong(`It has more than a load and an output ("${extra}"). Copy these two columns only.`)
    else {
      const load = parseQuantity(cells[0] ?? '', { decimalSign, dimensions: loads, unit: loadUnit })
      const output = parseQuantity(cells[1] ?? '', { decimalSign, dimensions: outputs, unit: outputUnit })
      if (!load.ok) wrong(`Load: ${load.failure.why}`)
      if (!output.ok) wrong(`Output: ${output.failure.why}`)
      if (load.ok && output.ok) taken.push({ row, load: load.value, output: output.value })
    }
  }
  return rising(taken, table)
}

/** By load, each once, the outputs rising with it; what does not fit is named by its row. */
function rising(taken: readonly { row: number; load: QuantityText; output: QuantityText }[], table: PastedTable): PastedTable {
  const [first] = taken
  const known = taken.flatMap((t) => {
    const load = quantityIn(t.load, first?.load.unit ?? t.load.unit)
    const output = quantityIn(t.output, first?.output.unit ?? t.output.unit)
    if (load.ok && output.ok) return [{ ...t, at: load.value, signal: output.value }]
    table.problems.push({ row: t.row, why: `It is in another kind of unit than row ${first?.row}.` })
    return []
  })
  const sorted = known.sort((a, b) => a.at.compare(b.at))
  for (const [i, t] of sorted.entries()) {
    const before = sorted[i - 1]
    if (before?.at.equals(t.at))
      table.problems.push({ row: t.row, why: `The load of row ${before.row} stands here once more; give each load once.` })
    else if (before && t.signal.lte(before.signal))
      table.problems.push({
        row: t.row,
        why: `The output does not rise from row ${before.row} to this one. Is it the falling run, or a slip?`,
      })
  }
  table.problems.sort((a, b) => a.row - b.row)
  if (table.problems.length === 0 && sorted.length === 1)
    table.problems.push({ row: sorted[0]?.row ?? 1, why: 'One row is no table: two at least.' })
  return { rows: sorted.map(({ load, output }) => ({ load, output })), problems: table.problems }
}
