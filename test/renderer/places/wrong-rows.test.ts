import { expect, it } from 'vitest'
import { calibrationTable } from '../../../app/job/calibration-table.ts'
import { wrongRowsWords } from '../../../renderer/places/sensors/calibration-paste.tsx'

it.each([
  ['0\t0\nx\ty\n500\t2', 'one row is wrong'],
  ['0\t0\nx\ty\n500\tz', '2 rows are wrong'],
])('of the pasted table %j it is said that %s', (text, words) => {
  expect(wrongRowsWords(calibrationTable(text, { decimalSign: '.', capacityUnit: 'kg' }).problems)).toBe(words)
})
