import { fail, ok, type Result } from '../result.ts'
import { type ProfileFailure, readProfile } from './read-profile.ts'
import { overlaps } from './register-rules.ts'
import type { Shape } from './register-view.ts'
import { missingForScaling } from './scaling-registers.ts'
import { type Profile, type Register, register, registerKey } from './schema.ts'

/** A profile under construction: what has been found so far, and careful values for what is not known. */
export type Draft = Omit<Profile, 'scaling'> & { scaling?: Profile['scaling'] }

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
      why: 'Not stated; careful values that ask least of an indicator.',
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
export type Found = Pick<Register, 'name' | 'channel' | 'table' | 'access' | 'role' | 'kept' | 'unit' | 'options'> & {
  shape: Shape
  /** What the front panel showed, as typed, and what was read at that moment. */
  display: string
  words: readonly number[]
}

/** Puts a place that was looked at into the draft, with evidence "hardware"; takes the place of an earlier one of that name. */
export function nameFound(draft: Draft, { shape, display, words, ...said }: Found): Result<Draft, ProfileFailure> {
  const made = register.safeParse({
    ...said,
    ...shape,
    evidence: 'hardware',
    why: `Read ${words.map((w) => w.toString(16).toUpperCase().padStart(4, '0')).join(' ')} (hex) while the front panel showed ${display}.`,
  })
  if (!made.success) return fail({ problems: made.error.issues.map((i) => ({ path: i.path.join('.') || said.name, message: i.message })) })
  const key = registerKey(made.data)
  const others = draft.registers.filter((r) => registerKey(r) !== key)
  const clash = overlaps([...others, made.data]).find(([later]) => later === others.length)
  const other = clash && others[clash[1]]
  if (other)
    return fail({
      problems: [
        { path: 'address', message: `${registerKey(other)} was found at ${other.address} and takes the same words: drop one of them` },
      ],
    })
  return ok({ ...draft, registers: [...others, made.data] })
}

/** Takes a register out of the draft again. */
export const dropFound = (draft: Draft, key: string): Draft => ({
  ...draft,
  registers: draft.registers.filter((r) => registerKey(r) !== key),
})

/** Everything that a draft still lacks, each as one line for people; empty where it can be finished. */
export function missingInDraft(draft: Draft): string[] {
  const missing: string[] = []
  const has = (name: string) => draft.registers.some((r) => r.name === name)
  if (!has('live.reading') && !has('live.gross') && draft.registers.length > 0)
    missing.push('live.reading: find the register that follows the display')
  if (!draft.scaling) missing.push('scaling: say which scaling model the indicator has')
  else missing.push(...missingForScaling({ ...draft, scaling: draft.scaling }).map((key) => `${key}: the scaling model needs it`))
  if (draft.registers.some((r) => r.kept === 'after-save') && !draft.procedures.save)
    missing.push('procedures.save: settings are said to be kept after saving; say how to save')
  if (draft.registers.some((r) => r.takesEffect === 'after-restart') && !draft.procedures.restart)
    missing.push('procedures.restart: settings are said to count after a restart; say how to restart')
  return missing
}

/** The finished profile, checked like any file; or everything that is missing or wrong. */
export function finishDraft(draft: Draft): Result<Profile, { missing: string[] }> {
  const missing = missingInDraft(draft)
  if (missing.length > 0) return fail({ missing })
  const read = readProfile(draft)
  return read.ok ? read : fail({ missing: read.failure.problems.map((p) => `${p.path}: ${p.message}`) })
}
