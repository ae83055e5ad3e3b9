import { z } from 'zod'
import { id } from '../job/schema.ts'
import { draftProfile, foundRegister } from '../profile/draft.ts'
import { registerFields, registerType } from '../profile/schema.ts'
import { decimalText } from '../quantity/decimal-text.ts'
import { busFailure } from './bus-failure.ts'
import { editProblem, nothing, refusal, resultOf } from './replies.ts'

const busProblem = z.union([busFailure, refusal])
const word = z.int().min(0).max(0xffff)
const problem = z.strictObject({ path: z.string(), message: z.string() })

/** A unit of a bus of the job; the unit itself need not be in the job. */
const unitAt = z.strictObject({ busId: id, unit: z.int().min(0).max(255) })
const wordTable = z.enum(['holding', 'input'])

const candidate = z.strictObject({
  address: word,
  type: registerType,
  order: registerFields.shape.order,
  decimals: z.int().optional(),
  words: z.array(word),
  text: z.string(),
  agrees: z.enum(['exact', 'rounded']),
})

/** A search for the place that a display follows, over a range of registers of one unit; kept until the next one. */
export const registerSearchView = z.strictObject({
  state: z.enum(['running', 'ended', 'cancelled', 'failed']),
  table: wordTable,
  from: word,
  to: word,
  /** What the display showed at the latest look. */
  display: decimalText,
  /** Looks so far: the first goes over the range, later ones only over what agreed until then. */
  looks: z.int(),
  /** Registers asked for and to be asked for in this look. */
  asked: z.int(),
  of: z.int(),
  /** What is left at the pace so far; null until there is one. */
  leftMs: z.number().nullable(),
  /** Shapes that agreed with the display at every look; the first of them are listed, exact ones before. */
  agreeing: z.int(),
  candidates: z.array(candidate).max(200),
  why: z.string().optional(),
})

/** A profile under construction, kept on disk as it changes. */
export const description = z.strictObject({
  schema: z.literal(1),
  id,
  revision: z.int().min(0),
  startedAt: z.iso.datetime({ offset: true }),
  changedAt: z.iso.datetime({ offset: true }),
  /** The unit that is being looked at. */
  unit: unitAt.optional(),
  draft: draftProfile,
  /** Revision at which it was last saved as a profile of the job; later ones are changes that are not in it yet. */
  savedRevision: z.int().optional(),
})

/** All descriptions under way, each with what is still missing or wrong. A file that cannot be read is left where it is. */
export const descriptionsView = z.strictObject({
  drafts: z.array(description.extend({ problems: z.array(problem) })),
  unreadable: z.array(z.strictObject({ file: z.string(), why: z.string() })),
})

/** Everything of a description but its registers. */
export const draftChange = draftProfile.omit({ schema: true, registers: true }).partial()

const which = z.strictObject({ descriptionId: id, revision: z.int() })
/** What is wrong with what was said, by path. */
const unfit = z.strictObject({ kind: z.literal('unfit'), problems: z.array(problem) })
const edited = resultOf(z.strictObject({ revision: z.int() }), z.union([editProblem, unfit]))

export const describeCalls = {
  /** Reads any block of a unit as it is; null where the unit says that it has no such register. `again` looks at the same block once more. */
  'registers.view': {
    request: unitAt.extend({
      table: z.enum(['holding', 'input', 'coil', 'discrete']),
      from: word,
      count: z.int().min(1).max(500),
      again: z.boolean(),
    }),
    reply: resultOf(z.strictObject({ words: z.array(word.nullable()), at: z.iso.datetime({ offset: true }) }), busProblem),
  },
  /** Looks for what agrees with the display over a range of registers; told by the topic `registerSearch` as it goes on. */
  'registers.search': {
    request: unitAt.extend({ table: wordTable, from: word, to: word, display: decimalText }),
    reply: resultOf(registerSearchView, busProblem),
  },
  /** A second look, after the load was changed: what agreed before and does not now is dropped. */
  'registers.search-again': {
    request: unitAt.extend({ display: decimalText }),
    reply: resultOf(registerSearchView, busProblem),
  },
  /** Finds by reading alone how many registers one request can bring, from an address on that is known to be there. */
  'registers.probe-longest': {
    request: unitAt.extend({ table: wordTable, from: word }),
    reply: resultOf(
      z.strictObject({
        longest: z.int(),
        /** The next length that was asked for and not answered with registers; absent where 125 are brought, the most there can be. */
        refused: z.strictObject({ count: z.int(), why: z.string(), perhapsNoMoreRegisters: z.boolean() }).optional(),
      }),
      busProblem,
    ),
  },
  /** Ends a search or probe of this unit. */
  'registers.cancel': { request: unitAt, reply: resultOf(nothing, refusal) },

  /** Starts a profile from nothing, or from a copy of one that is known. */
  'description.start': {
    request: z.strictObject({ name: z.string().min(1).max(80), copyOf: z.string().optional(), unit: unitAt.optional() }),
    reply: resultOf(z.strictObject({ descriptionId: id, revision: z.int() }), refusal),
  },
  /** Changes everything but registers, whole part by whole part. */
  'description.edit': {
    request: which.extend({
      change: draftChange,
      unit: unitAt.optional(),
    }),
    reply: edited,
  },
  /** Names a place whose content agrees with the display; it gets evidence "hardware". */
  'description.name-found': { request: which.extend({ found: foundRegister }), reply: edited },
  /** Puts a register as it is said, with whatever evidence there is, in place of one of its name or of the one that it replaces. */
  'description.put-register': { request: which.extend({ register: registerFields, replaces: z.string().optional() }), reply: edited },
  'description.drop-register': { request: which.extend({ key: z.string() }), reply: edited },
  /** Adds the registers of a table saved as CSV; one wrong row adds nothing. */
  'description.import-table': {
    request: which.extend({ sheet: z.string().max(900_000) }),
    reply: resultOf(
      z.strictObject({
        revision: z.int(),
        added: z.int(),
        errors: z.array(z.strictObject({ row: z.int(), column: z.string(), message: z.string() })),
      }),
      editProblem,
    ),
  },
  /** Puts the finished profile into the job, for its indicators to use at once, and as `ID.profile.json` into the job's folder of profiles. */
  'description.save': {
    request: which,
    reply: resultOf(z.strictObject({ revision: z.int(), profileId: z.string(), path: z.string() }), z.union([editProblem, unfit])),
  },
  /** Forgets a description; the profile that was saved from it stays. */
  'description.remove': { request: which, reply: resultOf(nothing, editProblem) },

  /** The text of a profile file, to be kept elsewhere or handed on. */
  'profile.export': {
    request: z.strictObject({ profileId: z.string() }),
    reply: resultOf(z.strictObject({ file: z.string(), text: z.string() }), refusal),
  },
  /** Puts the profile of a file's text into the job; one with this id is only replaced where that is said. */
  'profile.import': {
    request: z.strictObject({ text: z.string().max(900_000), replace: z.boolean() }),
    reply: resultOf(z.strictObject({ profileId: z.string(), path: z.string() }), z.union([refusal, unfit])),
  },
} as const

export type RegisterSearchView = z.infer<typeof registerSearchView>
export type SearchCandidate = z.infer<typeof candidate>
export type Description = z.infer<typeof description>
export type DescriptionsView = z.infer<typeof descriptionsView>
export type UnitAt = z.infer<typeof unitAt>
