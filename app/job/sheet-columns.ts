import { type ColumnMapping, type ImportError, type PointField, pointField, type SheetHeading } from '../contract/import-calls.ts'
import { unitsNamed } from '../quantity/unit-names.ts'
import type { UnitId } from '../quantity/units.ts'
import { mostSensors } from './sensors.ts'

/** One column that is read: where it stands, what it is for, and the unit its heading names for numbers without one. */
export type SheetColumn = { index: number; heading: string; field: PointField; unit?: UnitId }
export type SheetColumns = {
  columns: SheetColumn[]
  /** Every heading of the sheet with what it was taken for. */
  taken: SheetHeading[]
  errors: ImportError[]
}

/** Headings as people write them, without spaces, signs and what stands in brackets. */
const names: Record<PointField, string[]> = {
  tag: ['tag', 'tagno', 'tagnumber', 'measuringpoint', 'point'],
  name: ['name', 'description', 'service'],
  indicator: ['indicator', 'transmitter'],
  channel: ['channel', 'ch', 'input'],
  unit: ['unit', 'units'],
  maximumLoad: ['maximumload', 'maxload', 'max', 'upperrangevalue', 'urv'],
  scaleInterval: ['scaleinterval', 'interval', 'd'],
  sharePercent: ['share', 'sharepercent', 'loadshare'],
  deadLoad: ['deadload', 'tareweight', 'emptyweight'],
  gravityHere: ['gravity', 'gravityhere', 'localgravity'],
  pressure: ['pressure', 'pressurekind', 'pressurereference'],
  wires: ['wires', 'wiring'],
  sensorCount: ['sensorcount', 'noofsensors', 'numberofsensors', 'noofcells', 'numberofcells', 'noofloadcells', 'numberofloadcells'],
  serials: ['serials', 'serial', 'serialno', 'serialnos', 'serialnumber', 'serialnumbers', 'sensorserial', 'sensorserials'],
  capacity: ['capacity', 'sensorcapacity', 'ratedcapacity'],
  ratedOutput: ['ratedoutput', 'sensitivity'],
  zeroBalance: ['zerobalance', 'zerooutput'],
  safeOverload: ['safeoverload', 'safeload'],
}

/** Headings that people write over a number of sensors as well as over serial numbers: their cells tell which. */
const countOrSerials = ['sensors', 'cells', 'loadcells']

/** A cell that tells how many sensors there are: "4", "4 x 500 kg". Alone it is no serial number. */
const isCount = (cell: string) => /^\d{1,2}(\s*[x×*].*)?$/i.test(cell) && Number.parseInt(cell, 10) <= mostSensors

const bracket = /[([]([^)\]]*)[)\]]/
const plain = (heading: string) =>
  heading
    .replace(bracket, '')
    .replace(/[^\p{L}]/gu, '')
    .toLowerCase()

/**
 * Finds out which column holds what: the user's mapping first, then names. Nothing is read from two columns. A number of sensors is
 * never taken for a serial number, nor the other way round: where heading and cells leave it open, the column is not read and it is asked.
 */
export function columnsOf(headings: readonly string[], rows: readonly (readonly string[])[], mapping: ColumnMapping = {}): SheetColumns {
  const errors: ImportError[] = []
  const named = (heading: string, index: number): { fields: PointField[]; open?: boolean } => {
    const name = plain(heading)
    const fields = pointField.options.filter((field) => names[field].includes(name))
    if (!fields.includes('serials') && !countOrSerials.includes(name)) return { fields }
    const cells = rows.map((cells) => (cells[index] ?? '').trim()).filter((cell) => cell !== '')
    if (cells.length === 0) return { fields }
    const counts = cells.filter(isCount).length
    if (counts === 0) return { fields: ['serials'] }
    return counts === cells.length && fields.length === 0 ? { fields: ['sensorCount'] } : { fields: [], open: true }
  }
  const byName = headings.map(named)
  const columns: SheetColumn[] = []
  for (const field of pointField.options) {
    const chosen = mapping[field]
    if (chosen === null) continue
    const found = headings.flatMap((heading, index) => {
      const fits = chosen === undefined ? byName[index]?.fields.includes(field) : heading.trim() === chosen.trim()
      const claimed = chosen === undefined && Object.values(mapping).some((c) => typeof c === 'string' && c.trim() === heading.trim())
      return fits && !claimed ? [{ heading, index }] : []
    })
    const [first, second] = found
    if (chosen !== undefined && !first)
      errors.push({ row: 1, column: chosen, why: `There is no column "${chosen}". The sheet has: ${listed(headings)}.` })
    if (first && second)
      errors.push({ row: 1, column: second.heading, why: `"${first.heading}" and "${second.heading}" are both ${field}: choose one.` })
    if (!first) continue
    const written = bracket.exec(first.heading)?.[1]
    const [unit, ...more] = written === undefined ? [] : unitsNamed(written)
    columns.push({ index: first.index, heading: first.heading, field, ...(unit && more.length === 0 ? { unit } : {}) })
  }
  const leftOut = [mapping.serials, mapping.sensorCount].includes(null)
  for (const [index, heading] of headings.entries())
    if (byName[index]?.open && !leftOut && !columns.some((c) => c.index === index))
      errors.push({ row: 1, column: heading, why: `"${heading}" can be serial numbers or the number of sensors. Choose which it is.` })
  for (const field of ['tag', 'maximumLoad', 'scaleInterval'] as const)
    if (!columns.some((c) => c.field === field) && errors.length === 0)
      errors.push({ row: 1, column: '', why: `No column for the ${words[field]}. The sheet has: ${listed(headings)}.` })
  const taken = headings.map((heading, index) => ({ heading, field: columns.find((c) => c.index === index)?.field ?? null }))
  return { columns, taken, errors }
}

const words = { tag: 'tag', maximumLoad: 'maximum load', scaleInterval: 'scale interval' }
const listed = (headings: readonly string[]) => headings.map((h) => `"${h}"`).join(', ') || 'no headings'
