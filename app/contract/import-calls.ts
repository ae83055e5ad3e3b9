import { z } from 'zod'
import { id, point } from '../job/schema.ts'
import { unitId } from '../quantity/quantity-text.ts'
import { editProblem, resultOf } from './replies.ts'

/** What a column of a sheet of points can hold. */
export const pointField = z.enum([
  'tag',
  'name',
  'indicator',
  'channel',
  'unit',
  'maximumLoad',
  'scaleInterval',
  'sharePercent',
  'deadLoad',
  'gravityHere',
  'pressure',
  'wires',
  'sensorCount',
  'serials',
  'capacity',
  'ratedOutput',
  'zeroBalance',
  'safeOverload',
])

/** The user's own choice of columns: field to heading. A field left out is found by name; null leaves it out on purpose. */
export const columnMapping = z.partialRecord(pointField, z.string().max(200).nullable())

/** Many points after one: each `#` of the tag pattern is a digit of a running number ("WT-2##" from 1: WT-201, WT-202, ...). */
export const pointTemplate = z.strictObject({
  pointId: id,
  tagPattern: z.string().min(1).max(40),
  firstNumber: z.int().min(0).max(999_999),
  count: z.int().min(1).max(500),
  /** Puts the new points on the channels of one indicator, upwards from the first. */
  onIndicator: z.strictObject({ indicatorId: id, firstChannel: z.int().min(1).max(32) }).optional(),
})

/** One thing wrong with an import: row as the sheet counts it (the heading is row 1), the column's heading, what would be right. */
export const importError = z.strictObject({ row: z.int(), column: z.string(), why: z.string() })

/** What a column was taken for. `bareIn`: units that its numbers without one were taken in, which are those of the maximum load. */
const sheetHeading = z.strictObject({ heading: z.string(), field: pointField.nullable(), bareIn: z.array(unitId).optional() })

export const importCalls = {
  /** Reads points from the text of a CSV file or from a template point. A dry run adds nothing; one wrong row adds nothing, unless `partly`. */
  'points.import': {
    request: z.strictObject({
      revision: z.int(),
      from: z.union([
        z.strictObject({ sheet: z.string().max(900_000), columns: columnMapping.optional() }),
        z.strictObject({ template: pointTemplate }),
      ]),
      dryRun: z.boolean(),
      partly: z.boolean(),
    }),
    reply: resultOf(
      z.strictObject({
        revision: z.int(),
        /** The points were added; false for a dry run and where errors keep them out. */
        added: z.boolean(),
        points: z.array(point),
        errors: z.array(importError),
        /** Headings of the sheet and what each was taken for; null is not read. */
        columns: z.array(sheetHeading),
      }),
      editProblem,
    ),
  },
} as const

export type PointField = z.infer<typeof pointField>
export type ColumnMapping = z.infer<typeof columnMapping>
export type PointTemplate = z.infer<typeof pointTemplate>
export type SheetHeading = z.infer<typeof sheetHeading>
export type ImportError = z.infer<typeof importError>
