import { unitIds } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import { plainWords } from './plain-words.ts'
import { overlaps } from './register-rules.ts'
import { type Register, register, registerKey } from './schema.ts'

/** What is wrong in a register table: row as a spreadsheet counts it (1 is the heading), column by its heading. */
export type TableProblem = { row: number; column: string; message: string }

type Cell = { ok: true; value: unknown } | { ok: false; message: string }
type Column = { heading: string; path: string; needed: boolean; read: (text: string) => Cell }

const as = (value: unknown): Cell => ({ ok: true, value })
const not = (message: string): Cell => ({ ok: false, message })
const text = (t: string) => as(t)
const whole = (right: string) => (t: string) =>
  /^(0x[0-9a-f]+|-?\d+)$/i.test(t) ? as(Number(t)) : not(`"${t}" is no whole number: ${right}`)
const isName = (t: string) => /^[a-z][a-z0-9-]*(\.[a-z0-9][a-z0-9-]*)+$/.test(t)

/** "0=kg; 1=t" as pairs of a whole number and a text. */
function pairs(t: string, right: string, make: (number: number, meaning: string) => unknown): Cell {
  const made: unknown[] = []
  for (const part of t.split(';')) {
    const found = /^\s*(-?\d+)\s*=\s*(.+?)\s*$/.exec(part)
    if (!found) return not(`"${part.trim()}" is no pair: write ${right}`)
    made.push(make(Number(found[1]), found[2] ?? ''))
  }
  return as(made)
}

const columns: readonly Column[] = [
  { heading: 'name', path: 'name', needed: true, read: text },
  { heading: 'channel', path: 'channel', needed: false, read: whole('1 is the first channel; leave it empty for the whole indicator') },
  { heading: 'table', path: 'table', needed: true, read: text },
  { heading: 'address', path: 'address', needed: true, read: whole('the zero-based address in the request, e.g. 12 or 0x0C') },
  { heading: 'printed as', path: 'printedAs', needed: false, read: text },
  { heading: 'type', path: 'type', needed: true, read: text },
  { heading: 'order', path: 'order', needed: true, read: text },
  { heading: 'first bit', path: 'field.from', needed: false, read: whole('bit 0 is the lowest') },
  { heading: 'bits', path: 'field.width', needed: false, read: whole('how many bits from the first bit') },
  {
    heading: 'decimals',
    path: 'decimals',
    needed: false,
    read: (t) => (isName(t) ? as({ register: t }) : whole('a number, or the register that holds it')(t)),
  },
  {
    heading: 'unit',
    path: 'unit',
    needed: false,
    read: (t) =>
      unitIds.some((id) => id === t)
        ? as(t)
        : isName(t)
          ? as({ register: t })
          : not(`"${t}" is no known unit: write e.g. kg, kN, mV/V, or the register that names it`),
  },
  { heading: 'options', path: 'options', needed: false, read: (t) => pairs(t, '0=kg; 1=t', (raw, means) => ({ raw, means })) },
  { heading: 'status bits', path: 'bits', needed: false, read: (t) => pairs(t, '0=motion; 3=fault', (bit, name) => ({ bit, name })) },
  { heading: 'lowest', path: 'limits.from', needed: false, read: text },
  { heading: 'highest', path: 'limits.to', needed: false, read: text },
  { heading: 'access', path: 'access', needed: true, read: text },
  { heading: 'role', path: 'role', needed: true, read: text },
  { heading: 'kept', path: 'kept', needed: true, read: text },
  { heading: 'takes effect', path: 'takesEffect', needed: false, read: text },
  { heading: 'page', path: 'page', needed: false, read: text },
  { heading: 'evidence', path: 'evidence', needed: false, read: text },
  { heading: 'why', path: 'why', needed: false, read: text },
]

const norm = (heading: string) =>
  heading
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, ' ')

/** Headings that a register table may have; those it must have first. */
export const tableHeadings: readonly string[] = [...columns].sort((a, b) => Number(b.needed) - Number(a.needed)).map((c) => c.heading)

/**
 * Registers from the rows of a table, the first row its headings, in any order of columns. Empty rows are passed over.
 * A fact with a page is from the manual; without one its evidence has to be said. All problems are told together.
 * `already` are registers that they have to stand beside.
 */
export function registersFromRows(
  rows: readonly (readonly string[])[],
  already: readonly Register[] = [],
): Result<Register[], TableProblem[]> {
  const [headings = [], ...body] = rows
  const problems: TableProblem[] = []
  const placed = headings.map((heading) => columns.find((c) => c.heading === norm(heading)))
  headings.forEach((heading, i) => {
    const column = placed[i]
    if (heading.trim() !== '' && !column)
      problems.push({ row: 1, column: heading, message: `unknown column; known are ${tableHeadings.join(', ')}` })
    else if (column && placed.indexOf(column) !== i)
      problems.push({ row: 1, column: heading, message: 'this column stands twice: keep one' })
  })
  for (const c of columns)
    if (c.needed && !placed.includes(c)) problems.push({ row: 1, column: c.heading, message: 'this column is missing' })
  if (problems.length > 0) return fail(problems)

  const found: { row: number; register: Register }[] = []
  body.forEach((cells, i) => {
    if (cells.every((cell) => cell.trim() === '')) return
    const row = i + 2
    const made = registerFromRow(placed, cells)
    if (made.ok) found.push({ row, register: made.value })
    else problems.push(...made.failure.map((p) => ({ row, ...p })))
  })
  problems.push(...clashes(found), ...clashesWith(already, found))
  if (found.length === 0 && problems.length === 0)
    problems.push({ row: 2, column: 'name', message: 'the table has no register: write one a row' })
  return problems.length > 0 ? fail(problems.sort((a, b) => a.row - b.row)) : ok(found.map((f) => f.register))
}

function registerFromRow(placed: readonly (Column | undefined)[], cells: readonly string[]): Result<Register, Omit<TableProblem, 'row'>[]> {
  const problems: Omit<TableProblem, 'row'>[] = []
  const raw: Record<string, unknown> = {}
  placed.forEach((column, i) => {
    const cell = cells[i]?.trim() ?? ''
    if (!column || cell === '') return
    const read = column.read(cell)
    if (read.ok) put(raw, column.path, read.value)
    else problems.push({ column: column.heading, message: read.message })
  })
  if (cells.slice(placed.length).some((cell) => cell.trim() !== ''))
    problems.push({
      column: '(after the last)',
      message: 'there are more cells than headings: put texts with a separator in quotation marks',
    })
  if (raw['evidence'] === undefined && raw['page'] !== undefined) raw['evidence'] = 'manual'
  if (raw['evidence'] === undefined)
    problems.push({ column: 'page', message: 'say the page of the manual, or the evidence: hardware, inferred (with why) or invented' })
  if (problems.length > 0) return fail(problems)
  const made = register.safeParse(raw, { error: plainWords })
  if (made.success) return ok(made.data)
  return fail(made.error.issues.map((issue) => ({ column: headingOf(issue.path.map(String)), message: issue.message })))
}

function put(raw: Record<string, unknown>, path: string, value: unknown): void {
  const [outer = '', inner] = path.split('.')
  if (inner === undefined) raw[outer] = value
  else raw[outer] = { ...(raw[outer] as object | undefined), [inner]: value }
}

/** Column of the value that is wrong, the nearest one where the path goes deeper or less deep. */
function headingOf(path: readonly string[]): string {
  const full = path.join('.')
  return (columns.find((c) => full === c.path) ?? columns.find((c) => c.path.split('.')[0] === path[0]))?.heading ?? 'name'
}

function clashes(found: readonly { row: number; register: Register }[]): TableProblem[] {
  const twice = found.flatMap(({ row, register: r }, i) => {
    const before = found.findIndex((f) => registerKey(f.register) === registerKey(r))
    return before < i ? [{ row, column: 'name', message: `${registerKey(r)} stands in row ${found[before]?.row} already` }] : []
  })
  const shared = overlaps(found.map((f) => f.register)).map(([later, earlier]) => ({
    row: found[later]?.row ?? 0,
    column: 'address',
    message: `takes the same words as row ${found[earlier]?.row}: give another address, or a first bit and bits to each`,
  }))
  return [...twice, ...shared]
}

function clashesWith(already: readonly Register[], found: readonly { row: number; register: Register }[]): TableProblem[] {
  return found.flatMap(({ row, register: r }): TableProblem[] => {
    if (already.some((a) => registerKey(a) === registerKey(r)))
      return [{ row, column: 'name', message: `${registerKey(r)} is described already: drop it there, or leave this row out` }]
    const clash = overlaps([...already, r]).find(([later]) => later === already.length)
    const other = clash && already[clash[1]]
    return other ? [{ row, column: 'address', message: `takes the same words as ${registerKey(other)}, which is described already` }] : []
  })
}
