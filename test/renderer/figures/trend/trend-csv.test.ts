import papa from 'papaparse'
import { expect, it } from 'vitest'
import type { Mark, Trace } from '../../../../renderer/figures/trend/trace.ts'
import { trendCsv } from '../../../../renderer/figures/trend/trend-csv.ts'
import { Store } from '../../../../renderer/state/store.ts'

const anchor = Date.parse('2026-11-25T14:00:00Z')
const trace = (pointId: string, label: string, more: Partial<Trace> = {}): Trace => ({
  pointId,
  label,
  colour: 1,
  quantity: 'reading',
  unit: 'kg',
  ...more,
})

function table(traces: readonly Trace[], span: { from: number; to: number }, marks: readonly Mark[] = []) {
  const store = new Store()
  store.take([
    { pointId: 'a', unit: 'kg', at: 1_000, reading: -12.5, signal: 0.5 },
    { pointId: 'b', unit: 'kg', at: 1_020, reading: 3, signal: Number.NaN },
    { pointId: 'a', unit: 'kg', at: 1_050, reading: Number.NaN, signal: 0.25 },
    { pointId: 'b', unit: 'kg', at: 1_050, reading: 0.1 + 0.2, signal: 1 },
    { pointId: 'a', unit: 'kg', at: 9_000, reading: 99, signal: 1 },
  ])
  const text = trendCsv(store, traces, span, marks, { job: 'Mill; "line 2"', simulated: true, anchor })
  return papa.parse<string[]>(text.trim()).data
}

it('has a row for each time, every sample in its own column, nothing where there was no number', () => {
  const rows = table([trace('a', 'WT-101'), trace('b', 'WT-102')], { from: 0, to: 2_000 })
  expect(rows.slice(0, 3)).toEqual([
    ['trend of live samples', '1'],
    ['job', 'Mill; "line 2"'],
    ['indicators', 'simulated'],
  ])
  expect(rows.slice(5)).toEqual([
    ['time (UTC)', 'seconds', 'WT-101 (kg)', 'WT-102 (kg)'],
    ['2026-11-25T14:00:01.000Z', '0.000', '-12.5', ''],
    ['2026-11-25T14:00:01.020Z', '0.020', '', '3'],
    ['2026-11-25T14:00:01.050Z', '0.050', '', '0.3'],
  ])
})

it('writes the quantity that is drawn: signal times excitation in mV', () => {
  const rows = table([trace('a', 'WT-101', { quantity: 'signal', factor: 5, unit: 'mV' })], { from: 0, to: 2_000 })
  expect(rows[5]?.[2]).toBe('WT-101 signal (mV)')
  expect(rows.slice(6).map((r) => r[2])).toEqual(['2.5', '1.25'])
})

it('does not let a name become a formula in the program that opens the file', () => {
  expect(table([trace('a', '=1+2')], { from: 0, to: 2_000 })[5]?.[2]).toMatch(/^'=/)
})

it('puts each mark beside the first sample after it, the last where none came, and none of another time', () => {
  const marks = [
    { at: 1_010, label: '500 kg on' },
    { at: 1_015, label: 'door shut' },
    { at: 1_900, label: 'off' },
    { at: 8_000, label: 'later' },
  ]
  const rows = table([trace('a', 'WT-101'), trace('b', 'WT-102')], { from: 0, to: 2_000 }, marks)
  expect(rows.slice(5).map((r) => r[4])).toEqual(['mark', '', '500 kg on; door shut', 'off'])
})
