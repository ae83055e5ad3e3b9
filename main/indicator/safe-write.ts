import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Difference, ParameterOutcome, WriteFailure, WriteReceipt, WriteStep } from '../../app/contract/views.ts'
import type { HeldValue, SettingsImage } from '../../app/job/schema.ts'
import { withHolders } from '../../app/profile/meaning.ts'
import { type Register, registerKey } from '../../app/profile/schema.ts'
import { agrees, findRegister, interpret, moved, settingRegisters, unitFrom } from '../../app/profile/settings.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { WriteJournal } from '../files/write-journal.ts'
import { type Clock, runSteps } from './procedure.ts'
import type { RegisterWords, UnitIo } from './unit-io.ts'

/** One setting to be written: the words, and the text that people were shown. */
export type Wanted = { register: Register; words: readonly number[]; value: string }

type Cause = BusFailure | { kind: 'read-back-differs'; key: string; wanted: string; got: string }
type Trouble = { because: Cause; during: WriteStep }

export type WriteContext = {
  io: UnitIo
  clock: Clock
  /** UTC instant as text, for the journal and the images. */
  stamp(): string
  onStep(step: WriteStep, done: number, of: number): void
}

export type WriteEnd = { result: Result<WriteReceipt, WriteFailure>; image: SettingsImage | null }

/**
 * Puts `wanted` into an indicator: journal, unlock, write, read back, save, read all again, lock.
 * `before` is a complete read made just now and already compared with what the user was shown.
 * On failure every old value is put back while the link is unbroken; each parameter's end is said.
 */
export async function safeWrite(
  context: WriteContext,
  before: SettingsImage,
  wanted: readonly Wanted[],
  journal: WriteJournal,
): Promise<WriteEnd> {
  const { io, stamp } = context
  const progress = { sent: new Set<string>(), saveSent: false }
  const trouble = await writeAndSave(context, wanted, journal, progress)
  if (trouble) return giveUp(context, before, wanted, journal, progress, trouble)
  const all = await readImage(io, stamp)
  if (!all.ok) return giveUp(context, before, wanted, journal, progress, { because: all.failure, during: 'reading-all' })
  const doubt = differsFrom(wanted, all.value)
  if (doubt) return giveUp(context, before, wanted, journal, progress, doubt)
  const receipt = {
    written: shown(io, before, wanted),
    alsoMoved: alsoMoved(io, before, all.value, wanted),
    saved: io.profile.procedures.save !== undefined,
  }
  journal.note({ kind: 'end', at: stamp(), outcome: 'written' })
  return { result: ok(receipt), image: all.value }
}

/** Puts back what an interrupted write found, or what an earlier journal holds; the same way, without a further way back. */
export async function putBack(
  context: WriteContext,
  before: SettingsImage,
  keys: readonly string[],
  saveToo: boolean,
): Promise<Result<SettingsImage, Trouble>> {
  const { io, clock } = context
  context.onStep('restoring', 0, keys.length)
  const old = keys.flatMap((key): RegisterWords[] => {
    const register = findRegister(io.profile, key)
    const held = before.values[key]
    return register && held ? [{ register, words: held.words }] : []
  })
  const { unlock, save, lock } = io.profile.procedures
  const during = 'restoring' as const
  if (unlock) {
    const unlocked = await runSteps(io, unlock.steps, clock)
    if (!unlocked.ok) return fail({ because: unlocked.failure, during })
  }
  const written = await io.write(old)
  if (!written.ok) return fail({ because: written.failure, during })
  if (save && saveToo) {
    const saved = await runSteps(io, save.steps, clock)
    if (!saved.ok) return fail({ because: saved.failure, during })
  }
  if (lock) await runSteps(io, lock.steps, clock)
  const image = await readImage(io, context.stamp)
  if (!image.ok) return fail({ because: image.failure, during })
  const wrong = old.find((w) => !sameWords(before.values[registerKey(w.register)], image.value.values[registerKey(w.register)]))
  if (wrong) {
    const key = registerKey(wrong.register)
    return fail({
      because: { kind: 'read-back-differs', key, wanted: textOf(before.values[key]), got: textOf(image.value.values[key]) },
      during,
    })
  }
  return ok(image.value)
}

/** Complete read of an indicator's settings. */
export async function readImage(io: UnitIo, stamp: () => string): Promise<Result<SettingsImage, BusFailure>> {
  const read = await io.read(settingRegisters(io.profile), 'user')
  return read.ok ? ok({ at: stamp(), values: interpret(io.profile, read.value.words) }) : read
}

async function writeAndSave(
  context: WriteContext,
  wanted: readonly Wanted[],
  journal: WriteJournal,
  progress: { sent: Set<string>; saveSent: boolean },
): Promise<Trouble | null> {
  const { io, clock, stamp, onStep } = context
  const { unlock, save, lock, restart } = io.profile.procedures
  const at = (during: WriteStep, because: Cause): Trouble => ({ during, because })
  if (unlock) {
    onStep('unlocking', 0, wanted.length)
    const unlocked = await runSteps(io, unlock.steps, clock)
    if (!unlocked.ok) return at('unlocking', unlocked.failure)
  }
  onStep('writing', 0, wanted.length)
  const written = await io.write(wanted, (keys) => {
    journal.note({ kind: 'sending', at: stamp(), keys })
    for (const key of keys) progress.sent.add(key)
    onStep('writing', progress.sent.size, wanted.length)
  })
  if (!written.ok) return at('writing', written.failure)

  onStep('reading-back', wanted.length, wanted.length)
  const back = await readBack(io, wanted)
  if (!back.ok) return at('reading-back', back.failure)

  if (save) {
    onStep('saving', wanted.length, wanted.length)
    journal.note({ kind: 'step', at: stamp(), step: 'saving' })
    progress.saveSent = true
    const saved = await runSteps(io, save.steps, clock)
    if (!saved.ok) return at('saving', saved.failure)
  }
  if (restart && wanted.some((w) => w.register.takesEffect === 'after-restart')) {
    journal.note({ kind: 'step', at: stamp(), step: 'restarting' })
    const restarted = await runSteps(io, restart.steps, clock)
    if (!restarted.ok) return at('saving', restarted.failure)
  }
  if (lock) {
    const locked = await runSteps(io, lock.steps, clock)
    if (!locked.ok) return at('saving', locked.failure)
  }
  onStep('reading-all', wanted.length, wanted.length)
  return null
}

async function readBack(io: UnitIo, wanted: readonly Wanted[]): Promise<Result<null, Cause>> {
  const registers = withHolders(
    io.profile,
    wanted.map((w) => w.register),
  )
  const read = await io.read(registers, 'user')
  if (!read.ok) return read
  const trouble = differsFrom(wanted, { at: '', values: interpret(io.profile, read.value.words) })
  return trouble ? fail(trouble.because) : ok(null)
}

function differsFrom(wanted: readonly Wanted[], image: SettingsImage): Trouble | null {
  for (const w of wanted) {
    const key = registerKey(w.register)
    const got = image.values[key]
    if (!got || !agrees(w.register, w, got))
      return { because: { kind: 'read-back-differs', key, wanted: w.value, got: textOf(got) }, during: 'reading-all' }
  }
  return null
}

async function giveUp(
  context: WriteContext,
  before: SettingsImage,
  wanted: readonly Wanted[],
  journal: WriteJournal,
  progress: { sent: Set<string>; saveSent: boolean },
  trouble: Trouble,
): Promise<WriteEnd> {
  const { io, stamp } = context
  const failure = (end: 'restored' | 'not-restored' | 'nothing-written', parameters: ParameterOutcome[]): WriteFailure => ({
    kind: 'failed',
    because: trouble.because,
    during: trouble.during,
    end,
    parameters,
  })
  if (progress.sent.size === 0) {
    if (io.profile.procedures.lock) await runSteps(io, io.profile.procedures.lock.steps, context.clock)
    journal.note({ kind: 'end', at: stamp(), outcome: 'nothing-written' })
    return { result: fail(failure('nothing-written', outcomes(before, wanted, before))), image: before }
  }
  const back = await putBackPatiently(context, before, [...progress.sent], progress.saveSent || keptAtOnce(wanted))
  if (back.ok) {
    journal.note({ kind: 'end', at: stamp(), outcome: 'restored', now: back.value.values })
    return { result: fail(failure('restored', outcomes(before, wanted, back.value))), image: back.value }
  }
  // The journal stays open: what the indicator holds is not known to be the old values, so restoring is offered later.
  journal.note({ kind: 'step', at: stamp(), step: 'not-restored' })
  const now = await readImage(io, stamp)
  return { result: fail(failure('not-restored', outcomes(before, wanted, now.ok ? now.value : null))), image: now.ok ? now.value : null }
}

const restoreTries = 3

/** One lost frame must not leave a half-written indicator: tries again unless the line is gone or the user stopped it. */
async function putBackPatiently(...args: Parameters<typeof putBack>): ReturnType<typeof putBack> {
  let back = await putBack(...args)
  for (let tries = 1; tries < restoreTries && !back.ok && !isOver(back.failure.because); tries++) back = await putBack(...args)
  return back
}

const isOver = (because: Cause) => because.kind === 'stopped' || because.kind === 'link-down' || because.kind === 'other-master'

const keptAtOnce = (wanted: readonly Wanted[]) => wanted.some((w) => w.register.kept === 'at-once')

const sameWords = (a: HeldValue | undefined, b: HeldValue | undefined) =>
  a !== undefined && b !== undefined && a.words.join() === b.words.join()

const textOf = (held: HeldValue | undefined) => held?.value ?? (held ? `words ${held.words.join(' ')}` : 'unknown')

function outcomes(before: SettingsImage, wanted: readonly Wanted[], now: SettingsImage | null): ParameterOutcome[] {
  return wanted.map((w) => {
    const key = registerKey(w.register)
    const held = now?.values[key]
    return { key, wanted: w.value, before: before.values[key]?.value ?? null, now: held ? { value: held.value } : 'unknown' }
  })
}

function shown(io: UnitIo, before: SettingsImage, wanted: readonly Wanted[]): Difference[] {
  return wanted.map((w) => {
    const key = registerKey(w.register)
    const unit = w.register.options ? undefined : unitFrom(io.profile, w.register, (k) => before.values[k]?.value)
    return { key, held: before.values[key]?.value ?? null, intended: w.value, ...(unit ? { unit } : {}) }
  })
}

function alsoMoved(io: UnitIo, before: SettingsImage, after: SettingsImage, wanted: readonly Wanted[]): Difference[] {
  const asked = new Set(wanted.map((w) => registerKey(w.register)))
  return moved(io.profile, before, after).filter((d) => !asked.has(d.key))
}
