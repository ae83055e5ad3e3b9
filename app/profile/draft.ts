import { z } from 'zod'
import { decimalText } from '../quantity/decimal-text.ts'
import { fail, ok, type Result } from '../result.ts'
import { decode } from './codec.ts'
import { plainWords } from './plain-words.ts'
import { type ProfileFailure, readProfile } from './read-profile.ts'
import { overlaps } from './register-rules.ts'
import { agreement } from './register-view.ts'
import { missingForScaling } from './scaling-registers.ts'
import { byteOrder, type Profile, profileFields, type Register, register, registerFields, registerKey, registerName } from './schema.ts'
import { settingWords } from './setting-words.ts'
import { wordCount } from './words.ts'

/** A profile under construction: what has been found so far, and careful values for what is not known. */
export const draftProfile = profileFields.extend({
  scaling: profileFields.shape.scaling.optional(),
  registers: z.array(register).max(2_000),
})
export type Draft = z.infer<typeof draftProfile>

/**
 * An empty profile for an indicator that nobody has described yet.
 * Requests are as careful as they can be: what an indicator stands is not stated until its manual or a trial says so.
 */
export function startDraft(named: { id: string; name: string; document: string; revision: string; channels: number }): Draft {
  return {
    schema: 1,
    id: named.id,
    name: named.name,
    about: '',
    source: { document: named.document, revision: named.revision },
    identity: { tests: [], compareWithPanel: [] },
    requests: {
      longestRead: 2,
      longestWrite: 2,
      readOver: 0,
      pauseMs: 0,
      answerMs: 1000,
      writeWith: 'either',
      oneParameterAWrite: true,
      evidence: 'inferred',
      why: 'Careful values that ask least of an indicator, until its manual or a trial says more.',
    },
    channels: named.channels,
    terminals: [],
    registers: [],
    dependencies: [],
    commands: {},
    procedures: {},
  }
}

/** What the user says about a place whose content agreed with the display. */
export const foundRegister = registerFields
  .pick({
    name: true,
    channel: true,
    printedAs: true,
    table: true,
    access: true,
    role: true,
    kept: true,
    unit: true,
    field: true,
    options: true,
    limits: true,
  })
  .extend({
    shape: z.strictObject({
      address: registerFields.shape.address,
      type: registerFields.shape.type,
      order: byteOrder,
      decimals: z.int().min(0).max(9).optional(),
    }),
    /** The register that holds the decimals, where they are not the same for ever. */
    decimalsIn: registerName.optional(),
    /** What the front panel showed, as typed: a decimal number with a point, or the word that an option stands for. */
    display: z.string().min(1).max(60),
    /** What was read at that moment. */
    words: z.array(z.int().min(0).max(0xffff)).min(1).max(2),
  })
export type Found = z.infer<typeof foundRegister>

const hexOf = (words: readonly number[]) => words.map((w) => w.toString(16).toUpperCase().padStart(4, '0')).join(' ')

/** Does what was read mean what the display showed? Null where it does; else what it means. */
function disagreement({ shape, field, options, display, words }: Found): string | null {
  if (words.length !== wordCount(shape.type)) return `${shape.type} takes ${wordCount(shape.type)} register(s), ${words.length} were read`
  const text = decode({ name: 'x', ...shape, field, options }, words)
  const agrees = options ? text === display : decimalText.safeParse(display).success && agreement(text, display) !== 'no'
  return agrees ? null : `${hexOf(words)} (hex) read so is ${text ?? 'no number'}, and the display showed ${display}`
}

/** Looking shows what a register means, not what may be written to it. */
const asTyped = ' Access, limits and how a written value is kept are as typed; no write has tried them.'

/** Puts a place that was looked at into the draft, with evidence "hardware"; takes the place of an earlier one of that name. */
export function nameFound(draft: Draft, found: Found): Result<Draft, ProfileFailure> {
  if ((found.channel ?? 0) > draft.channels)
    return fail({ problems: [{ path: 'channel', message: `at most ${draft.channels}: the profile has no more channels` }] })
  const apart = disagreement(found)
  if (apart) return fail({ problems: [{ path: 'display', message: apart }] })
  const { shape, display, words, decimalsIn, ...said } = found
  const { decimals, ...place } = shape
  const kept = decimalsIn === undefined ? decimals : { register: decimalsIn }
  return putRegister(draft, {
    ...said,
    ...place,
    ...(kept === undefined || said.options ? {} : { decimals: kept }),
    takesEffect: 'now',
    readBack: 'exact',
    evidence: 'hardware',
    why: `Read ${hexOf(words)} (hex) while the front panel showed ${display}.${said.access === 'read' ? '' : asTyped}`,
  })
}

/** Puts a register into the draft as it is said, in place of one of the same name and of the one that it replaces. */
export function putRegister(draft: Draft, said: Register, replaces?: string): Result<Draft, ProfileFailure> {
  const made = register.safeParse(said, { error: plainWords })
  if (!made.success) return fail({ problems: made.error.issues.map((i) => ({ path: i.path.join('.') || said.name, message: i.message })) })
  const key = registerKey(made.data)
  const stays = (r: Register) => registerKey(r) !== key && registerKey(r) !== replaces
  const others = draft.registers.filter(stays)
  const clash = overlaps([...others, made.data]).find(([later]) => later === others.length)
  const other = clash && others[clash[1]]
  if (other)
    return fail({
      problems: [
        {
          path: 'address',
          message: `${settingWords(registerKey(other), draft.channels)} was found at ${other.address} and takes the same words: drop one of them`,
        },
      ],
    })
  const at = draft.registers.findIndex((r) => !stays(r))
  const before = at < 0 ? others : draft.registers.slice(0, at).filter(stays)
  return ok({ ...draft, registers: [...before, made.data, ...others.slice(before.length)] })
}

/** Takes a register out of the draft again. */
export const dropFound = (draft: Draft, key: string): Draft => ({
  ...draft,
  registers: draft.registers.filter((r) => registerKey(r) !== key),
})

/** Stands in where no scaling model was said yet, so that everything else can be checked already. */
const notSaid: Profile['scaling'] = { model: 'front-panel-entry', evidence: 'inferred' }

/** Everything that a draft still lacks or has wrong, each with its path; empty where it can be finished. */
export function checkDraft(draft: Draft): ProfileFailure['problems'] {
  const missing: ProfileFailure['problems'] = []
  const has = (name: string) => draft.registers.some((r) => r.name === name)
  const lacks = (path: string, message: string) => missing.push({ path, message })
  const onThePanelOnly = draft.registers.length === 0 && draft.scaling?.model === 'front-panel-entry'
  if (!onThePanelOnly && !has('live.reading') && !has('live.gross')) lacks('live.reading', 'find the register that follows the display')
  if (!draft.scaling) lacks('scaling', 'say which scaling model the indicator has')
  else for (const key of missingForScaling({ ...draft, scaling: draft.scaling })) lacks(key, 'the scaling model needs it')
  if (draft.registers.some((r) => r.kept === 'after-save') && !draft.procedures.save)
    lacks('procedures.save', 'settings are said to be kept after saving; say how to save')
  if (draft.registers.some((r) => r.takesEffect === 'after-restart') && !draft.procedures.restart)
    lacks('procedures.restart', 'settings are said to count after a restart; say how to restart')
  const read = readProfile({ ...draft, scaling: draft.scaling ?? notSaid })
  return read.ok ? missing : [...missing, ...read.failure.problems]
}

/** The finished profile, checked like any file; or everything that is missing or wrong. */
export function finishDraft(draft: Draft): Result<Profile, ProfileFailure> {
  const problems = checkDraft(draft)
  return problems.length > 0 ? fail({ problems }) : readProfile(draft)
}
