import { describe, expect, it } from 'vitest'
import { calibrationTable } from '../../../app/job/calibration-table.ts'

const kg = { decimalSign: '.', capacityUnit: 'kg' } as const
const comma = { decimalSign: ',', capacityUnit: 'kg' } as const
const plain = (table: ReturnType<typeof calibrationTable>) =>
  table.rows.map((r) => `${r.load.value} ${r.load.unit} = ${r.output.value} ${r.output.unit}`)

describe('a calibration table pasted from a spreadsheet', () => {
  it('is load and output by row, in the unit of the capacity and mV/V, digits kept', () => {
    expect(calibrationTable('0\t0.0100\n250\t1.0108\n500\t2.0120\n', kg)).toEqual({
      rows: [
        { load: { value: '0', unit: 'kg' }, output: { value: '0.0100', unit: 'mV/V' } },
        { load: { value: '250', unit: 'kg' }, output: { value: '1.0108', unit: 'mV/V' } },
        { load: { value: '500', unit: 'kg' }, output: { value: '2.0120', unit: 'mV/V' } },
      ],
      problems: [],
    })
  })

  it('takes the units of its heading', () => {
    const table = calibrationTable('Load (kN)\tOutput [mV]\r\n0\t0.1\r\n5\t10.2\r\n', kg)
    expect(plain(table)).toEqual(['0 kN = 0.1 mV', '5 kN = 10.2 mV'])
    expect(plain(calibrationTable('t;mV/V\n0;0\n1;2', kg))).toEqual(['0 t = 0 mV/V', '1 t = 2 mV/V'])
  })

  it('goes by the decimal sign of the job, the comma never parting cells', () => {
    expect(plain(calibrationTable('0;0,0100\n1 250,5;2,0120', comma))).toEqual(['0 kg = 0.0100 mV/V', '1250.5 kg = 2.0120 mV/V'])
    // 1,234 can be both; asked for, not guessed
    expect(calibrationTable('0\t0.01\n1,234\t1.5', kg).problems).toEqual([{ row: 2, why: expect.stringContaining('can be') }])
  })

  it('sorts by load and passes over empty lines', () => {
    expect(plain(calibrationTable('\n500\t2.0\n\n0\t0.0', kg))).toEqual(['0 kg = 0.0 mV/V', '500 kg = 2.0 mV/V'])
  })

  it('names every row that is wrong, by its number as pasted', () => {
    const { problems } = calibrationTable('Load\tOutput\n0\t0.01\n100\n200\tabc\n300\t1.2\t1.3\n400 bar\t1.6\n500\t2.0', kg)
    expect(problems.map((p) => p.row)).toEqual([3, 4, 5, 6])
    expect(problems[1]?.why).toMatch(/^Output: "abc"/)
  })

  it('refuses a load that comes twice, an output that falls, another kind of unit and a single row', () => {
    const why = (text: string) => calibrationTable(text, kg).problems.map((p) => `${p.row}: ${p.why.split('.')[0]}`)
    expect(why('0\t0\n100\t1\n100\t1.1')).toEqual(['3: The load of row 2 stands here once more; give each load once'])
    expect(why('0\t0\n100\t1\n200\t0.9')).toEqual(['3: The output does not rise from row 2 to this one'])
    expect(why('0\t0 mV/V\n100\t1 mV')).toEqual(['2: It is in another kind of unit than row 1'])
    expect(why('100\t1')).toEqual(['1: One row is no table: two at least'])
  })
})
