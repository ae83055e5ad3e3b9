import { describe, expect, it } from 'vitest'
import { registersFromRows } from '../../../app/profile/from-csv.ts'
import { readCsv } from '../../../main/files/csv.ts'

const heading = 'Name;Channel;Table;Address;Printed as;Type;Order;Decimals;Unit;Options;First bit;Bits;Lowest;Highest;Access;Role;Kept;Page'
const good = [
  'scale.upper.signal;1;holding;12;40013;i32;CDAB;5;mV/V;;;;-3;3;read-write;setting;after-save;31',
  'scale.upper.reading;1;holding;0x0E;40015;i32;CDAB;reading.decimals;reading.unit;;;;;;read-write;setting;after-save;31',
  ';;;;;;;;;;;;;;;;;',
  'reading.unit;1;holding;16;40017;u16;AB;;;"1=kg; 2=t";0;4;;;read-write;setting;after-save;32',
  'reading.decimals;1;holding;16;40017;u16;AB;;;;4;4;0;4;read-write;setting;after-save;32',
]
const read = (...lines: string[]) => {
  const rows = readCsv(lines.join('\n'))
  if (!rows.ok) throw new Error(rows.failure.why)
  return registersFromRows(rows.value)
}
const problems = (...lines: string[]) => {
  const made = read(...lines)
  return made.ok ? [] : made.failure
}
/** The good table with one cell of row 2 replaced. */
const spoilt = (column: string, cell: string) => {
  const at = heading.split(';').indexOf(column)
  const cells = good[0]!.split(';')
  cells[at] = cell
  return problems(heading, cells.join(';'), ...good.slice(1))
}

describe('a register table', () => {
  it('becomes registers with the manual as evidence', () => {
    const made = read(heading, ...good)
    expect(made).toMatchObject({
      ok: true,
      value: [
        {
          name: 'scale.upper.signal',
          channel: 1,
          address: 12,
          printedAs: '40013',
          decimals: 5,
          limits: { from: '-3', to: '3' },
          evidence: 'manual',
          page: '31',
        },
        { address: 14, decimals: { register: 'reading.decimals' }, unit: { register: 'reading.unit' } },
        {
          options: [
            { raw: 1, means: 'kg' },
            { raw: 2, means: 't' },
          ],
          field: { from: 0, width: 4 },
        },
        { field: { from: 4, width: 4 } },
      ],
    })
  })

  it.each([
    ['Address', '40O13', 'address', /zero-based/],
    ['Address', '70000', 'address', /^at most 65535$/],
    ['Type', 'float', 'type', /^say u16, i16, u32, i32 or f32$/],
    ['Type', '', 'type', /^is missing: say u16/],
    ['Channel', '0', 'channel', /^at least 1$/],
    ['Lowest', '', 'lowest', /^is missing$/],
    ['Kept', 'yes', 'kept', /^say at-once, after-save or never$/],
    ['Order', 'AB', 'order', /ABCD, CDAB, BADC or DCBA/],
    ['Unit', 'kilos', 'unit', /write e\.g\. kg/],
    ['Decimals', 'two', 'decimals', /a number, or the register/],
    ['Options', '1:kg', 'options', /0=kg; 1=t/],
    ['Lowest', '5', 'highest', /not below 5/],
    ['Bits', '40', 'bits', /32/],
    ['Access', 'rw', 'access', /read-write/],
    ['Page', '', 'page', /say the page/],
    ['Name', 'Upper signal', 'name', /lower-case words/],
    ['Address', '15', 'address', /same words as row 3|same words as row 2/],
  ])('with %s "%s" is refused at that cell', (column, cell, where, message) => {
    const found = spoilt(column, cell)
    expect(found).toContainEqual({ row: expect.any(Number), column: where, message: expect.stringMatching(message) })
    expect(found[0]!.row).toBe(cell === '15' ? 3 : 2)
  })

  it('tells every problem at once, in order of rows', () => {
    const both = problems(heading, good[0]!.replace(';12;', ';x;'), good[1]!.replace('CDAB', 'AB'))
    expect(both.map((p) => [p.row, p.column])).toEqual([
      [2, 'address'],
      [3, 'order'],
    ])
  })

  it('names unknown, missing and doubled columns', () => {
    expect(problems('name;table;adress;type;order;access;role;kept;type')).toEqual([
      { row: 1, column: 'adress', message: expect.stringContaining('known are name, table, address') },
      { row: 1, column: 'type', message: expect.stringContaining('twice') },
      { row: 1, column: 'address', message: 'this column is missing' },
    ])
  })

  it('refuses one meaning in two rows, and a table without registers', () => {
    expect(problems(heading, good[0]!, good[0]!.replace(';12;', ';20;'))).toEqual([
      { row: 3, column: 'name', message: 'scale.upper.signal@1 stands in row 2 already' },
    ])
    expect(problems(heading)).toEqual([{ row: 2, column: 'name', message: expect.stringContaining('no register') }])
  })
})
