import { z } from 'zod'
import { id } from '../job/schema.ts'
import { decimalText } from '../quantity/decimal-text.ts'
import { unitId } from '../quantity/quantity-text.ts'
import { refusal, resultOf } from './replies.ts'

const pair = z.strictObject({ signal: decimalText, reading: decimalText })

/** What to type at an indicator, in its own digits and order. */
export const entrySheetView = z.strictObject({
  pointId: id,
  tag: z.string(),
  name: z.string(),
  indicator: z.strictObject({ id, name: z.string(), unit: z.int(), profile: z.string(), model: z.string() }),
  /** panel: the menu as the profile describes it. settings: no menu is described, the settings stand in the profile's order. */
  order: z.enum(['panel', 'settings']),
  /** False where nobody has stated the digits that the menu takes. */
  digitsKnown: z.boolean(),
  /** intended: as it stands in the job. computed: from certificate or measurement, just now. */
  from: z.enum(['intended', 'computed']),
  lines: z.array(
    z.strictObject({
      key: z.string(),
      /** What the panel shows for it, null where that is not described. */
      label: z.string().nullable(),
      words: z.string(),
      /** Null: nothing is decided, it stays as it is. */
      type: z.string().nullable(),
      unit: z.string().optional(),
    }),
  ),
  /** Loads to put on and command, where the indicator takes the signals itself. */
  captures: z.array(
    z.strictObject({ command: z.string(), apply: decimalText, unit: unitId, expectSignal: decimalText, signalUnit: unitId }),
  ),
  /** The line that the indicator then shows. */
  line: z.strictObject({ lower: pair, upper: pair, signalUnit: unitId, readingUnit: unitId }),
  /** Error at maximum load because of the digits; in the unit of the point, in scale intervals, in percent. */
  rounding: z.strictObject({ units: decimalText, intervals: decimalText, percent: decimalText, unit: unitId }),
  warnings: z.array(z.string()),
})

export const entrySheetCalls = {
  /** Sheets for these points, to be shown, and as one HTML document that prints on A4, a page for each. */
  'entry-sheet.read': {
    request: z.strictObject({ pointIds: z.array(id).min(1).max(200) }),
    reply: resultOf(z.strictObject({ sheets: z.array(entrySheetView), html: z.string() }), refusal),
  },
} as const

export type EntrySheetView = z.infer<typeof entrySheetView>
