import type { ColumnMapping, ImportError, PointField } from '../contract/import-calls.ts'
import type { Profile } from '../profile/schema.ts'
import { kindOf, quantityIn } from '../quantity/convert.ts'
import { exactDecimal } from '../quantity/exact.ts'
import type { DecimalSign } from '../quantity/format.ts'
import { parseNumber, parseQuantity } from '../quantity/parse.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import { unitsNamed } from '../quantity/unit-names.ts'
import { type Dimension, type UnitId, units } from '../quantity/units.ts'
import { whyNoSafeOverload } from './edit-limits.ts'
import { pointClashes } from './point-rules.ts'
import { type Certificate, certificate, type Indicator, type Point, point as pointSchema } from './schema.ts'
import { mostSensors } from './sensors.ts'
import { columnsOf, type SheetColumn, type SheetColumns } from './sheet-columns.ts'

/** What an import is measured against: the job it goes into. */
export type ImportContext = {
  decimalSign: DecimalSign
  points: readonly Point[]
  indicators: readonly Indicator[]
  profiles: ReadonlyMap<string, Profile>
  newId(): string
}

export type Imported = { points: Point[]; errors: ImportError[]; columns: SheetColumns['taken'] }

/** Rows beyond this are another kind of file. */
export const mostRows = 2_000
const loads: Dimension[] = ['mass', 'force', 'pressure', 'torque']

/**
 * Points from the rows of a sheet, heading first; empty rows are passed over. Every wrong cell is named by row and column, with the
 * first thing wrong with it; a row with one gives no point. Whether the sound rows are taken without the others is for the caller to ask.
 */
export function importPoints(rows: readonly (readonly string[])[], context: ImportContext, mapping?: ColumnMapping): Imported {
  const [headings = []] = rows
  const { columns, taken, errors } = columnsOf(headings, rows.slice(1), mapping)
  if (errors.length > 0) return { points: [], errors, columns: taken }
  const filled = rows.flatMap((cells, i) => (i > 0 && cells.some((c) => c.trim() !== '') ? [{ cells, row: i + 1 }] : []))
  const whole = (why: string) => ({ points: [], errors: [{ row: 1, column: '', why }], columns: taken })
  if (filled.length === 0) return whole('The sheet has headings but no rows.')
  if (filled.length > mostRows) return whole(`The sheet has ${filled.length} rows; at most ${mostRows} are taken at once.`)
  const points: Point[] = []
  const bareIn = new Set<UnitId>()
  for (const { cells, row } of filled) {
    const reader = rowReader(cells, row, columns, context.decimalSign)
    const extra = cells.slice(headings.length).find((c) => c.trim() !== '')
    if (extra !== undefined)
      reader.wrong('tag', `The row has more cells than headings ("${extra}"). Is a decimal comma or a separator inside a cell unquoted?`)
    const point = pointOfRow(reader, context, [...context.points, ...points])
    if (point) {
      points.push(point)
      if (reader.isBare('scaleInterval')) bareIn.add(point.unit)
    }
    errors.push(...reader.errors)
  }
  const said = taken.map((t) => (t.field === 'scaleInterval' && bareIn.size > 0 ? { ...t, bareIn: [...bareIn] } : t))
  return { points, errors, columns: said }
}

const clashField = {
  tag: 'tag',
  channel: 'channel',
  indicatorId: 'indicator',
  maximumLoad: 'maximumLoad',
  scaleInterval: 'scaleInterval',
  verificationInterval: 'scaleInterval',
  'loadPath.sharePercent': 'sharePercent',
} as const satisfies Record<string, PointField>

type RowReader = ReturnType<typeof rowReader>

function rowReader(cells: readonly string[], row: number, columns: readonly SheetColumn[], decimalSign: DecimalSign) {
  const errors: ImportError[] = []
  const column = (field: PointField) => columns.find((c) => c.field === field)
  const text = (field: PointField) => {
    const c = column(field)
    return c ? (cells[c.index] ?? '').trim() : ''
  }
  const named = new Set<PointField>()
  const wrong = (field: PointField, why: string): undefined => {
    if (!named.has(field)) errors.push({ row, column: column(field)?.heading ?? '', why })
    named.add(field)
    return undefined
  }
  return {
    errors,
    text,
    wrong,
    /** A number without a unit, in its cell as in its heading. */
    isBare: (field: PointField) => column(field)?.unit === undefined && parseNumber(text(field), decimalSign).ok,
    /** The unit that a quantity is written in, in its cell or in its heading. */
    writtenUnit(field: PointField, dimensions: readonly Dimension[]): UnitId | undefined {
      const unit = column(field)?.unit
      const parsed = parseQuantity(text(field), { decimalSign, dimensions, ...(unit ? { unit } : {}) })
      return parsed.ok ? parsed.value.unit : undefined
    },
    /** A quantity; the unit of the heading, or `unit`, where the cell has a number only. */
    quantity(field: PointField, dimensions: readonly Dimension[], unit?: UnitId): QuantityText | undefined {
      const typed = text(field)
      if (typed === '') return undefined
      const fallback = column(field)?.unit ?? unit
      const parsed = parseQuantity(typed, { decimalSign, dimensions, ...(fallback ? { unit: fallback } : {}) })
      return parsed.ok ? parsed.value : wrong(field, parsed.failure.why)
    },
    number(field: PointField): string | undefined {
      const typed = text(field).replace(/\s*%$/, '')
      if (typed === '') return undefined
      const parsed = parseNumber(typed, decimalSign)
      return parsed.ok ? parsed.value : wrong(field, parsed.failure.why)
    },
  }
}

function pointOfRow(row: RowReader, context: ImportContext, others: readonly Point[]): Point | undefined {
  const tag = row.text('tag')
  if (tag === '') row.wrong('tag', 'The tag is missing.')
  if (tag.length > 40) row.wrong('tag', 'A tag has at most 40 characters.')
  if (row.text('name').length > 400) row.wrong('name', 'A name has at most 400 characters.')
  const unit = unitOfPoint(row)
  const inUnit = (field: PointField) => loadIn(row, field, unit)
  const unitOfMax = row.writtenUnit('maximumLoad', loads)
  if (unit && unitOfMax && unitOfMax !== unit && row.isBare('scaleInterval'))
    row.wrong(
      'scaleInterval',
      `The maximum load is written in ${unitOfMax}, the point is in ${unit}: write the scale interval with its unit, like "${row.text('scaleInterval')} ${unit}".`,
    )
  const [maximumLoad, scaleInterval] = [inUnit('maximumLoad'), inUnit('scaleInterval')]
  const place = placeOf(row, context.indicators)
  const sharePercent = row.number('sharePercent') ?? '100'
  const candidate = {
    id: context.newId(),
    tag,
    name: row.text('name'),
    ...place,
    unit,
    maximumLoad,
    scaleInterval,
    loadPath: {
      sharePercent,
      deadLoad: loadOf(row, 'deadLoad', unit),
      gravityHere: row.quantity('gravityHere', ['acceleration'], 'm/s2'),
      pressure: oneOf(row, 'pressure', ['gauge', 'absolute', 'differential'] as const),
    },
    sensors: { certificates: certificatesOf(row, unit), trimmed: false },
    wiring: { wires: wiresOf(row) },
    intended: {},
  }
  const known = { tag, unit, maximumLoad, scaleInterval, sharePercent, channel: 1, ...place }
  for (const clash of pointClashes(known, others, [...context.indicators], context.profiles)) row.wrong(clashField[clash.where], clash.why)
  if (row.errors.length > 0) return undefined
  const read = pointSchema.safeParse(withoutUndefined(candidate))
  if (read.success) return read.data
  return row.wrong('tag', read.error.issues.map((i) => `${i.path.join('.')}: ${i.message}`).join('; '))
}

/** The unit column decides, then the unit written with the maximum load, then its heading. */
function unitOfPoint(row: RowReader): UnitId | undefined {
  const written = row.text('unit')
  if (written === '') {
    if (row.text('maximumLoad') === '') return row.wrong('maximumLoad', 'The maximum load is missing.')
    return row.quantity('maximumLoad', loads)?.unit
  }
  const named = unitsNamed(written).filter((id) => loads.includes(units[id].dimension))
  const [first, second] = named
  if (first && !second) return first
  return row.wrong(
    'unit',
    first
      ? `"${written}" can mean ${named.join(', ')}. Write the one that is meant.`
      : `"${written}" is no unit of load or pressure known here. Write a unit like kg, t, kN, bar, kPa.`,
  )
}

/** A load of the kind that the point measures. Where its own unit is wrong, the cell is still read for what is wrong with it. */
const loadOf = (row: RowReader, field: PointField, unit: UnitId | undefined) =>
  unit ? row.quantity(field, kindOf(unit), unit) : row.quantity(field, loads, 'kg')

function loadIn(row: RowReader, field: PointField, unit: UnitId | undefined): string | undefined {
  if (row.text(field) === '')
    return row.wrong(field, field === 'maximumLoad' ? 'The maximum load is missing.' : 'The scale interval is missing.')
  const typed = row.quantity(field, loads, unit ?? 'kg')
  if (!typed || !unit) return undefined
  if (typed.unit === unit) return typed.value
  const converted = quantityIn(typed, unit)
  if (!converted.ok) return row.wrong(field, `${typed.unit} cannot be written in ${unit}, the unit of the point. Write it in ${unit}.`)
  return exactDecimal(converted.value) ?? row.wrong(field, `${typed.value} ${typed.unit} has no finite number of decimals in ${unit}.`)
}

function placeOf(row: RowReader, indicators: readonly Indicator[]): { indicatorId?: string; channel?: number } {
  const named = row.text('indicator')
  const typed = row.number('channel')
  const channel = typed === undefined ? undefined : Number(typed)
  if (channel !== undefined && !(Number.isInteger(channel) && channel >= 1 && channel <= 32))
    row.wrong('channel', `"${row.text('channel')}" is not a channel: write a whole number from 1 to 32.`)
  const chosen = channel === undefined ? {} : { channel }
  if (named === '') {
    if (typed !== undefined) row.wrong('channel', 'A channel is one of an indicator: name the indicator too, or leave the channel empty.')
    return chosen
  }
  const exactly = indicators.filter((i) => i.id === named || i.name === named)
  const found = exactly.length > 0 ? exactly : indicators.filter((i) => i.name.toLowerCase() === named.toLowerCase())
  const [first, second] = found
  if (first && !second) return { ...chosen, indicatorId: first.id }
  const have = indicators.map((i) => i.name).join(', ') || 'none yet'
  row.wrong(
    'indicator',
    second ? `"${named}" names ${found.length} indicators; write the id.` : `There is no indicator "${named}". The job has: ${have}.`,
  )
  return chosen
}

function oneOf<T extends string>(row: RowReader, field: PointField, options: readonly T[]): T | undefined {
  const typed = row.text(field).toLowerCase()
  if (typed === '') return undefined
  return options.find((o) => o === typed) ?? row.wrong(field, `"${row.text(field)}" is none of ${options.join(', ')}.`)
}

function wiresOf(row: RowReader): 4 | 6 | undefined {
  const typed = row.text('wires')
  if (typed === '') return undefined
  const wires = /^([46])(\D.*)?$/.exec(typed)?.[1]
  return wires === '4' ? 4 : wires === '6' ? 6 : row.wrong('wires', `"${typed}": write 4 or 6.`)
}

function sensorCountOf(row: RowReader): number | undefined {
  const typed = row.text('sensorCount')
  if (typed === '') return undefined
  const count = /^\d{1,2}$/.test(typed) ? Number(typed) : 0
  if (count >= 1 && count <= mostSensors) return count
  return row.wrong(
    'sensorCount',
    `"${typed}": write how many sensors there are, 1 to ${mostSensors}, and their capacity in a column of its own.`,
  )
}

/** One certificate for each sensor, all with the same values: as many as are counted, else one for each serial number, else one, where anything is stated of it. */
function certificatesOf(row: RowReader, unit: UnitId | undefined): Certificate[] {
  const serials = row
    .text('serials')
    .split(/[;/\n]|,\s*/)
    .map((s) => s.trim())
    .filter((s) => s !== '')
  const count = sensorCountOf(row)
  if (count !== undefined && serials.length > 0 && serials.length !== count)
    row.wrong(
      'serials',
      `The row has ${serials.length} serial ${serials.length === 1 ? 'number' : 'numbers'} and ${count} sensors. Write one for each, or none.`,
    )
  const capacity = loadOf(row, 'capacity', unit)
  const ratedOutput = row.quantity('ratedOutput', ['bridge-signal', 'voltage'], 'mV/V')
  const zeroBalance = row.quantity('zeroBalance', ['bridge-signal', 'voltage', 'ratio'], 'mV/V')
  const safeOverloadPercent = row.number('safeOverload')
  const stated = [capacity, ratedOutput, zeroBalance, safeOverloadPercent, count].some((v) => v !== undefined) || serials.length > 0
  if (!stated) return []
  if (capacity && Number(capacity.value) <= 0) row.wrong('capacity', 'The capacity must be above nought.')
  const noOverload = safeOverloadPercent === undefined ? null : whyNoSafeOverload(safeOverloadPercent)
  if (noOverload) row.wrong('safeOverload', noOverload)
  if (ratedOutput && Number(ratedOutput.value) === 0) row.wrong('ratedOutput', 'The rated output must not be nought.')
  return Array.from({ length: count ?? Math.max(1, serials.length) }, (_, i) =>
    certificate.parse(
      withoutUndefined({
        number: '',
        date: '',
        serial: (serials[i] ?? '').slice(0, 400),
        capacity,
        ratedOutput,
        zeroBalance,
        safeOverloadPercent,
      }),
    ),
  )
}

/** Leaves out what is undefined, at every depth: absent and undefined are one in the schema. */
function withoutUndefined(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutUndefined)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(Object.entries(value).flatMap(([k, v]) => (v === undefined ? [] : [[k, withoutUndefined(v)]])))
}
