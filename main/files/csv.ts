import papa from 'papaparse'
import { fail, ok, type Result } from '../../app/result.ts'

export type CsvProblem = { why: string; row?: number }

const separators = [';', '\t', ','] as const

/** Text of a sheet as spreadsheets save it: UTF-8, UTF-16 with its mark, or the western single-byte set where it is no UTF-8. */
export function sheetText(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes)
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes)
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return new TextDecoder('windows-1252').decode(bytes)
  }
}

/** Rows of a CSV text. The heading row decides between semicolon, tab and comma; a cell left open or a file that is no text is refused. */
export function readCsv(text: string): Result<string[][], CsvProblem> {
  const plain = text.replace(/^\uFEFF/, '')
  if (plain.trim() === '') return fail({ why: 'The sheet is empty.' })
  if (plain.includes('\u0000')) return fail({ why: 'This is no text. Save the sheet as CSV first.' })
  if (plain.startsWith('PK\u0003\u0004')) return fail({ why: 'This is a workbook. Save the sheet as CSV first.' })
  const named = /^sep=(.)\r?\n/i.exec(plain)
  const body = named ? plain.slice(named[0].length) : plain
  const read = papa.parse<string[]>(body, { delimiter: named?.[1] ?? separatorOf(body), skipEmptyLines: false })
  const open = read.errors.find((e) => e.type === 'Quotes')
  if (open)
    return fail({ why: `A quotation mark is left open or stands inside a cell (row ${(open.row ?? 0) + 1}).`, row: (open.row ?? 0) + 1 })
  const rows = read.data
  while (rows.at(-1)?.every((cell) => cell.trim() === '')) rows.pop()
  return ok(rows)
}

/** The one that stands most often in the first line outside quotes; headings hold decimal commas far more rarely than rows. */
function separatorOf(text: string): string {
  const counts = new Map<string, number>(separators.map((s) => [s, 0]))
  let quoted = false
  for (const sign of text) {
    if (sign === '"') quoted = !quoted
    else if (!quoted && (sign === '\n' || sign === '\r')) break
    else if (!quoted && counts.has(sign)) counts.set(sign, (counts.get(sign) ?? 0) + 1)
  }
  const most = Math.max(...counts.values())
  return separators.find((s) => counts.get(s) === most) ?? ','
}

/** One line of a CSV file. A text that a spreadsheet would run as a formula is kept a text by an apostrophe; numbers stay as they are. */
export function csvLine(cells: readonly string[]): string {
  return `${papa.unparse([cells.map(notAFormula)], { delimiter: ',', newline: '\n' })}\n`
}

const notAFormula = (cell: string) => (/^[=+\-@\t\r]/.test(cell) && !/^-?\d+(\.\d+)?(e-?\d+)?$/i.test(cell) ? `'${cell}` : cell)
