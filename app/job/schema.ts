import { z } from 'zod'
import { profile, serialFormat } from '../profile/schema.ts'
import { decimalText } from '../quantity/decimal-text.ts'
import { quantityText, unitId } from '../quantity/quantity-text.ts'
import { loadPath } from './load-path.ts'
import { wiring } from './wiring.ts'

export const id = z.string().regex(/^[a-z0-9-]{1,40}$/)
const instant = z.iso.datetime({ offset: true })
const text = z.string().max(400)
const words = z.array(z.int().min(0).max(0xffff))

/** One register as it was read: its words, and what they mean by the profile (null where they mean nothing, e.g. a NaN). */
export const heldValue = z.strictObject({ words, value: z.string().nullable() })
/** A complete read of an indicator's settings, by register key. */
export const settingsImage = z.strictObject({ at: instant, values: z.record(z.string(), heldValue) })

/** A way that a port or socket can be opened. */
export const realLink = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('serial'), path: z.string().min(1), format: serialFormat }),
  z.strictObject({ kind: z.literal('modbus-tcp'), host: z.string().min(1), port: z.int().min(1).max(65_535) }),
  z.strictObject({ kind: z.literal('rtu-over-tcp'), host: z.string().min(1), port: z.int().min(1).max(65_535), format: serialFormat }),
])

export const bus = z.strictObject({
  id,
  name: text,
  /** `practice` is a bus of the practice bench; its port or socket is only known while the bench runs. */
  link: z.discriminatedUnion('kind', [
    ...realLink.options,
    z.strictObject({
      kind: z.literal('practice'),
      bus: z.string().min(1),
      framing: z.enum(['rtu', 'modbus-tcp']).default('rtu'),
      /** Of the practice line, where it was changed from what the bench starts with. */
      format: serialFormat.optional(),
    }),
  ]),
})

const brokenSeal = z.strictObject({ by: text, reason: text, at: instant })

export const indicator = z.strictObject({
  id,
  name: text,
  busId: id,
  unit: z.int().min(0).max(255),
  profileId: z.string(),
  /** Sealed or legal for trade: read-only until broken by name. `earlier`: seals that were broken before it was sealed again, oldest first. */
  sealed: z
    .strictObject({
      seals: text,
      broken: brokenSeal.optional(),
      earlier: z.array(z.strictObject({ seals: text, broken: brokenSeal })).optional(),
    })
    .optional(),
})

export const certificate = z.strictObject({
  number: text,
  date: text,
  serial: text,
  capacity: quantityText.optional(),
  ratedOutput: quantityText.optional(),
  zeroBalance: quantityText.optional(),
  inputResistance: quantityText.optional(),
  outputResistance: quantityText.optional(),
  /** Plus or minus, as the certificate or data sheet states them. */
  inputResistanceTolerance: quantityText.optional(),
  outputResistanceTolerance: quantityText.optional(),
  excitationRecommended: quantityText.optional(),
  excitationMaximum: quantityText.optional(),
  safeOverloadPercent: decimalText.optional(),
  /** Output at stated loads or pressures. `certifiedAt` where the output is in mV at one excitation. */
  table: z.array(z.strictObject({ load: quantityText, output: quantityText })).optional(),
  certifiedAt: quantityText.optional(),
  /** Gravity behind a certificate in mass units. */
  gravity: z.union([z.enum(['standard', 'not-stated']), quantityText]).default('not-stated'),
})

/** Values meant for an indicator, by register key; the text is a decimal in the register's unit or an option's meaning. */
export const intended = z.record(z.string(), z.string())
/** What is to be intended otherwise; `null` takes a value back, and the indicator keeps what it holds. */
export const intendedChange = z.record(z.string(), z.string().nullable())

const tolerance = z.strictObject({ value: decimalText, why: text })

export const point = z.strictObject({
  id,
  tag: z.string().min(1).max(40),
  name: text,
  indicatorId: id.optional(),
  channel: z.int().min(1).max(32).default(1),
  unit: unitId,
  maximumLoad: decimalText,
  scaleInterval: decimalText,
  /** Verification scale interval e of an instrument for legal trade, in the point's unit. */
  verificationInterval: decimalText.optional(),
  loadPath,
  sensors: z.strictObject({ certificates: z.array(certificate), trimmed: z.boolean() }),
  wiring,
  /** What was measured at the point itself and takes the place of what certificates let expect. */
  measured: z
    .strictObject({
      zeroSignal: quantityText.optional(),
      /** The excitation that a zero in mV was taken at, where that was known. */
      zeroExcitation: quantityText.optional(),
      excitation: quantityText.optional(),
      /** Signals under known loads, two or more; of a signal in mV the excitation it was taken at, where that was known. */
      loads: z
        .array(z.strictObject({ load: quantityText, signal: quantityText, at: instant.optional(), excitation: quantityText.optional() }))
        .optional(),
      loadsFit: z.enum(['least-squares', 'end-points']).optional(),
      /** Change of signal that the sensor's shunt makes: as its certificate states it, and as the indicator measured it; one in mV as above. */
      shunt: z.strictObject({ stated: quantityText, measured: quantityText, excitation: quantityText.optional() }).optional(),
    })
    .default({}),
  /** What the scaling is computed from; absent = rated outputs of the certificates. */
  scalingFrom: z.enum(['certificate', 'certificate-table', 'measured-loads', 'shunt']).optional(),
  intended,
  tolerance: tolerance.optional(),
})

export const checkStep = z.strictObject({
  load: decimalText,
  reading: decimalText,
  origin: z.enum(['live', 'typed']),
  at: instant,
  /** Raw samples that the captured reading stands on, oldest first. */
  samples: z.array(decimalText),
})

export const verdict = z.enum(['within', 'outside', 'cannot-be-judged'])

export const quickCheck = z.strictObject({
  id,
  pointId: id,
  when: z.enum(['as-found', 'as-left']),
  startedAt: instant,
  finishedAt: instant.optional(),
  by: text,
  unit: unitId,
  steps: z.array(checkStep),
  /** Steps that were taken and then done again, oldest first: kept and told, not judged. */
  takenBack: z.array(checkStep).optional(),
  /** Weights or pressure standard that were applied, as somebody names them. */
  standards: text.optional(),
  /** What it was judged by when it was finished, in `unit`: what becomes of the point later does not turn its verdict. */
  judgedBy: z
    .strictObject({
      maximumLoad: decimalText,
      scaleInterval: decimalText,
      tolerance: tolerance.optional(),
      pressure: loadPath.shape.pressure,
    })
    .optional(),
  /** The scaling values held while the check was made; a later change supersedes the check. */
  held: settingsImage.optional(),
})

export const visit = z.strictObject({
  id,
  startedAt: instant,
  by: text,
  found: z.record(id, settingsImage),
  left: z.record(id, settingsImage),
  checks: z.array(quickCheck),
})

export const job = z.strictObject({
  schema: z.literal(1),
  id,
  name: text,
  site: text,
  /** The buses of this job are the practice bench: said on every screen and sheet. */
  simulated: z.boolean(),
  decimalSign: z.enum(['.', ',']),
  revision: z.int().min(0),
  buses: z.array(bus),
  indicators: z.array(indicator),
  points: z.array(point),
  visits: z.array(visit),
  /** Profiles that this job uses and that are not bundled. */
  profiles: z.array(profile),
})

export type Job = z.infer<typeof job>
export type Bus = z.infer<typeof bus>
export type RealLink = z.infer<typeof realLink>
export type Indicator = z.infer<typeof indicator>
export type Point = z.infer<typeof point>
export type Certificate = z.infer<typeof certificate>
export type HeldValue = z.infer<typeof heldValue>
export type SettingsImage = z.infer<typeof settingsImage>
export type Intended = z.infer<typeof intended>
export type IntendedChange = z.infer<typeof intendedChange>
export type QuickCheck = z.infer<typeof quickCheck>
export type CheckStep = z.infer<typeof checkStep>
export type Verdict = z.infer<typeof verdict>
export type Visit = z.infer<typeof visit>
