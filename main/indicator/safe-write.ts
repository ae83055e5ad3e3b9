import type { ParameterOutcome, WriteFailure, WriteStep } from '../../app/contract/views.ts'
import type { SettingsImage } from '../../app/job/schema.ts'
import { isBusRegister } from '../../app/profile/bus-registers.ts'
import { withHolders } from '../../app/profile/meaning.ts'
import { interpret } from '../../app/profile/settings.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { WriteJournal } from '../files/write-journal.ts'
import type { Moving } from './move-unit.ts'
import { runSteps } from './procedure.ts'
import { putBackPatiently } from './put-back.ts'
import type { UnitIo } from './unit-io.ts'
import { writeAndFollow } from './write-and-follow.ts'
import { type Cause, readImage, type Trouble, type Wanted, type WriteContext, type WriteEnd } from './write-context.ts'
import { differsFrom, outcomes, receiptOf } from './write-report.ts'

/**
 * Puts `wanted` into an indicator: journal, unlock, write, read back, save, read all again, lock.
 * `before` is a complete read made just now and already compared with what the user was shown.
 * Address and line format go last, when all else holds and is saved; for them `moving` says how to go after the indicator.
 * On failure every old value is put back while the link is unbroken; each parameter's end is said.
 */
export async function safeWrite(
  context: WriteContext,
  before: SettingsImage,
  wanted: readonly Wanted[],
  journal: WriteJournal,
  moving?: Moving,
): Promise<WriteEnd> {
  const last = wanted.filter((w) => isBusRegister(w.register))
  if (!moving || last.length === 0) return writeInPlace(context, before, wanted, wanted, journal)
  const first = wanted.filter((w) => !isBusRegister(w.register))
  if (first.length > 0) {
    const end = await writeInPlace(context, before, first, wanted, journal)
    if (!end.result.ok) return end
  }
  return writeAndFollow(context, before, wanted, last, journal, moving)
}

/** `all` are the wanted ones whose end is told, `wanted` those of them that are written now; the rest keeps the journal open. */
async function writeInPlace(
  context: WriteContext,
  before: SettingsImage,
  wanted: readonly Wanted[],
  all: readonly Wanted[],
  journal: WriteJournal,
): Promise<WriteEnd> {
  const { io, stamp } = context
  const progress = { sent: new Set<string>(), saveSent: false }
  const trouble = await writeAndSave(context, wanted, journal, progress)
  if (trouble) return giveUp(context, before, all, journal, progress, trouble)
  const image = await readImage(io, stamp)
  if (!image.ok) return giveUp(context, before, all, journal, progress, { because: image.failure, during: 'reading-all' })
  const doubt = differsFrom(wanted, image.value)
  if (doubt) return giveUp(context, before, all, journal, progress, doubt)
  const ended = all.length === wanted.length ? journal.note({ kind: 'end', at: stamp(), outcome: 'written' }) : ok(null)
  if (!ended.ok) {
    // It holds and is saved; the journal, still open, has to be ended before anything else is written.
    const parameters = outcomes(before, all, image.value)
    return {
      result: fail({ kind: 'failed', because: ended.failure, during: 'reading-all', end: 'not-restored', parameters }),
      image: image.value,
    }
  }
  return { result: ok(receiptOf(io, before, image.value, all)), image: image.value }
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
    const noted = journal.note({ kind: 'sending', at: stamp(), keys })
    if (!noted.ok) return noted
    for (const key of keys) progress.sent.add(key)
    onStep('writing', progress.sent.size, wanted.length)
    return ok(null)
  })
  if (!written.ok) return at('writing', written.failure)

  onStep('reading-back', wanted.length, wanted.length)
  const back = await readBack(io, wanted)
  if (!back.ok) return at('reading-back', back.failure)

  if (save) {
    onStep('saving', wanted.length, wanted.length)
    const noted = journal.note({ kind: 'step', at: stamp(), step: 'saving' })
    if (!noted.ok) return at('saving', noted.failure)
    progress.saveSent = true
    const saved = await runSteps(io, save.steps, clock)
    if (!saved.ok) return at('saving', saved.failure)
  }
  if (restart && wanted.some((w) => w.register.takesEffect === 'after-restart')) {
    const noted = journal.note({ kind: 'step', at: stamp(), step: 'restarting' })
    if (!noted.ok) return at('saving', noted.failure)
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

const keptAtOnce = (wanted: readonly Wanted[]) => wanted.some((w) => w.register.kept === 'at-once')
