import { describe, expect, it } from 'vitest'
import { csvLine, readCsv, sheetText } from '../../../main/files/csv.ts'

const rows = (text: string) => {
  const read = readCsv(text)
  if (!read.ok) throw new Error(read.failure.why)
  return read.value
}

describe('a sheet as CSV', () => {
  it.each([
    ['semicolon beside decimal commas', 'Tag;Max\nWT-1;2,5 t\nWT-2;1,5 t', '2,5 t'],
    ['tab', 'Tag\tMax\nWT-1\t2,5 t', '2,5 t'],
    ['comma and quotes', 'Tag,"Max, kg"\r\nWT-1,"2,5 t"\r\n', '2,5 t'],
    ['a byte order mark', '\uFEFFTag,Max\nWT-1,5 t', '5 t'],
    ['a line that names the separator', 'sep=,\nTag;x,Max\nWT-1,5 t', '5 t'],
    ['a line break and a quotation mark in a cell', 'Tag,Max\nWT-1,"5 ""t"""', '5 "t"'],
  ])('reads %s', (_what, text, cell) => {
    expect(rows(text)[1]?.[1]).toBe(cell)
    expect(rows(text)[0]?.[0]?.startsWith('Tag')).toBe(true)
  })

  it.each([
    ['', 'empty'],
    ['  \n', 'empty'],
    ['PK\u0003\u0004\u0014', 'workbook'],
    ['a\u0000b', 'no text'],
    ['Tag,Max\nWT-1,"5 t', 'row 2'],
  ])('refuses %j: %s', (text, why) => {
    expect(readCsv(text)).toMatchObject({ ok: false, failure: { why: expect.stringContaining(why) } })
  })

  it('reads the encodings that spreadsheets write', () => {
    // ohm sign U+03A9 in UTF-16, u-umlaut 0xFC in windows-1252, and in UTF-8 (C3 BC)
    expect(sheetText(Uint8Array.of(0xff, 0xfe, 0xa9, 0x03))).toBe('\u03a9')
    expect(sheetText(Uint8Array.of(0xfe, 0xff, 0x03, 0xa9))).toBe('\u03a9')
    expect(sheetText(Uint8Array.of(0x4d, 0xfc))).toBe('M\u00fc')
    expect(sheetText(Uint8Array.of(0xc3, 0xbc))).toBe('\u00fc')
  })

  it('writes what a spreadsheet would run as text, and numbers as numbers', () => {
    expect(csvLine(['=1+1', '-12.50', '+x', 'a,b', '-x', '1e-5'])).toBe("'=1+1,-12.50,'+x,\"a,b\",'-x,1e-5\n")
  })
})
