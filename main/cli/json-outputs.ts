import { z } from 'zod'
import { busFailure } from '../../app/contract/bus-failure.ts'
import { entrySheetView } from '../../app/contract/entry-sheet-calls.ts'
import { importError, pointField } from '../../app/contract/import-calls.ts'
import { difference, identityView, liveSample, writePreview, writeReceipt } from '../../app/contract/views.ts'
import { point, quickCheck, settingsImage, verdict } from '../../app/job/schema.ts'
import { byteOrder, registerType, serialFormat } from '../../app/profile/schema.ts'
import { quantityText } from '../../app/quantity/quantity-text.ts'
import { jobOutputs } from './job-outputs.ts'

const failure = z.strictObject({
  ok: z.literal(false),
  /** The exit code, as listed by `--help`. */
  exit: z.int(),
  why: z.string(),
  where: z.string().optional(),
  /** The failure as the host gave it. */
  detail: z.unknown().optional(),
})

const portsOutput = z.strictObject({
  ok: z.literal(true),
  ports: z.array(
    z.strictObject({
      path: z.string(),
      manufacturer: z.string().optional(),
      serialNumber: z.string().optional(),
      vendorId: z.string().optional(),
      productId: z.string().optional(),
      pnpId: z.string().optional(),
      locationId: z.string().optional(),
    }),
  ),
})

const profileCheckOutput = z.strictObject({
  ok: z.boolean(),
  files: z.array(
    z.discriminatedUnion('ok', [
      z.strictObject({ file: z.string(), ok: z.literal(true), id: z.string(), name: z.string(), registers: z.int() }),
      z.strictObject({
        file: z.string(),
        ok: z.literal(false),
        problems: z.array(z.strictObject({ path: z.string(), message: z.string() })),
      }),
    ]),
  ),
})

const simulateOutput = z.strictObject({
  ok: z.literal(true),
  profile: z.string(),
  unit: z.int(),
  link: z.enum(['pty', 'rtu-over-tcp', 'modbus-tcp']),
  path: z.string().optional(),
  host: z.string().optional(),
  port: z.int().optional(),
  scaled: z.boolean(),
  sensor: z.strictObject({ capacity: quantityText, ratedOutput: quantityText }),
})

const indicator = z.strictObject({ id: z.string(), name: z.string(), unit: z.int(), profile: z.string() })
const aboutIndicator = { ok: z.literal(true), indicator }

const writeOutput = z.discriminatedUnion('wrote', [
  /** A dry run, or nothing differs. */
  z.strictObject({ ...aboutIndicator, wrote: z.literal(false), preview: writePreview }),
  z.strictObject({ ...aboutIndicator, wrote: z.literal(true), receipt: writeReceipt }),
])

/** `set-address --one-by-one`; what was done before a failure stands in its `detail` in the same way. */
const oneByOneOutput = z.strictObject({
  ok: z.literal(true),
  /** False where Ctrl-C ended it, and for a dry run. */
  complete: z.boolean(),
  outcomes: z.array(
    z.discriminatedUnion('how', [
      z.strictObject({
        how: z.literal('given'),
        indicator,
        receipt: writeReceipt,
        /** Who answers at the factory address afterwards. */
        answersAtOld: z.enum(['nobody', 'one', 'unclear']),
      }),
      z.strictObject({ how: z.literal('left'), indicator, why: z.string() }),
    ]),
  ),
  remaining: z.array(indicator),
})

/** One line of `live --json`; `at` is an instant in UTC. */
const liveLine = z.discriminatedUnion('state', [
  z.strictObject({ state: z.literal('fresh'), tag: z.string(), at: z.iso.datetime(), ...liveSample.omit({ at: true }).shape }),
  z.strictObject({ state: z.literal('stale'), tag: z.string(), at: z.iso.datetime(), pointId: z.string(), because: busFailure }),
])

const checkOutput = z.strictObject({
  ok: z.literal(true),
  point: z.string(),
  check: quickCheck,
  verdict,
  reasons: z.array(z.string()),
  remarks: z.array(z.string()),
  /** In the unit of the point; rounded to a tenth of a scale interval. */
  errors: z.array(z.strictObject({ load: z.string(), error: z.string() })),
})

const registersOutput = z.strictObject({
  ok: z.literal(true),
  unit: z.int(),
  table: z.enum(['holding', 'input']),
  /** Zero-based address of the first word. */
  from: z.int(),
  words: z.array(z.int()),
  /** What the words could mean; with --display only what agrees with it, without it whole numbers and floats. */
  candidates: z.array(
    z.strictObject({
      address: z.int(),
      type: registerType,
      order: byteOrder,
      decimals: z.int().optional(),
      text: z.string().nullable(),
      agrees: z.enum(['exact', 'rounded', 'no']),
    }),
  ),
})

/** Null on sockets, where the line behind has a format of its own. */
const format = serialFormat.nullable()
const scanOutput = z.strictObject({
  ok: z.literal(true),
  /** The longest it could have taken on a quiet line, as said beforehand. */
  atMostMs: z.int(),
  asked: z.int(),
  of: z.int(),
  /** False where Ctrl-C ended it. */
  complete: z.boolean(),
  /** `tookMs` is null where the unit refused the register: it is there. */
  found: z.array(z.strictObject({ unit: z.int(), format, tookMs: z.number().nullable() })),
  unclear: z.array(z.strictObject({ unit: z.int(), format, because: busFailure })),
})

/** What `--json` prints, by command; `failure` is what every one of them prints instead where it came to nothing. */
export const jsonOutputs = {
  failure,
  demo: z.strictObject({ ok: z.literal(true), job: z.string(), sheets: z.array(z.strictObject({ point: z.string(), file: z.string() })) }),
  /** The names there are, or the JSON Schema of the one that was named. */
  schema: z.union([z.strictObject({ ok: z.literal(true), names: z.array(z.string()) }), z.looseObject({ $schema: z.string() })]),
  ports: portsOutput,
  identify: z.strictObject({ ...aboutIndicator, identity: identityView }),
  'settings-read': z.strictObject({ ...aboutIndicator, held: settingsImage }),
  'settings-compare': z.strictObject({ ...aboutIndicator, compared: z.int(), differs: z.array(difference) }),
  'settings-write': writeOutput,
  'settings-restore': writeOutput,
  'settings-resolve': z.strictObject({ ...aboutIndicator, how: z.enum(['restore', 'complete', 'leave']), receipt: writeReceipt }),
  'set-address': writeOutput,
  'set-address-one-by-one': oneByOneOutput,
  live: liveLine,
  check: checkOutput,
  'entry-sheet': z.strictObject({
    ok: z.literal(true),
    sheets: z.array(entrySheetView),
    /** The document that was written. */
    html: z.string().optional(),
  }),
  'import-points': z.strictObject({
    ok: z.literal(true),
    added: z.boolean(),
    dryRun: z.boolean(),
    points: z.array(point),
    errors: z.array(importError),
    columns: z.array(z.strictObject({ heading: z.string(), field: pointField.nullable() })),
  }),
  'break-seal': z.strictObject({ ...aboutIndicator, seals: z.string(), by: z.string(), reason: z.string() }),
  registers: registersOutput,
  scan: scanOutput,
  'profile-check': profileCheckOutput,
  simulate: simulateOutput,
  ...jobOutputs,
} as const satisfies Record<string, z.ZodType>

export type JsonOutput = keyof typeof jsonOutputs
