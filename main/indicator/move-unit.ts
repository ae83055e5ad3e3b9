import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Place, Whereabouts } from '../../app/contract/place.ts'
import type { WriteStep } from '../../app/contract/views.ts'
import { placeText, placeWith, sameFormat, samePlace } from '../../app/profile/bus-registers.ts'
import type { Register, Step } from '../../app/profile/schema.ts'
import type { Result } from '../../app/result.ts'
import type { WriteJournal } from '../files/write-journal.ts'
import { awayMs, isCertain, lookAround, lookFor } from './look-for-unit.ts'
import { runSteps } from './procedure.ts'
import type { UnitIo } from './unit-io.ts'
import type { Answering, Who } from './who-answers.ts'
import type { Cause, Wanted, WriteContext } from './write-context.ts'

/** What a write needs to give an indicator another address or line format, and to go after it. */
export type Moving = {
  place: Place
  /** What tells the indicator from others, read at its old place. */
  who: Who
  /** The way to the unit at another place; the bus is opened anew where the line format differs. */
  ioAt(place: Place): Promise<Result<UnitIo, BusFailure>>
}

export type MoveEnd =
  | { kind: 'there'; io: UnitIo; place: Place; when: 'now' | 'at-next-power-up' }
  | ({ kind: 'trouble'; because: Cause; during: WriteStep; target: Place } & Found)

/** Where it answers after trouble; `place` is null where it was not found. */
export type Found = { answers: Whereabouts['answers']; place: Place | null }

/**
 * Writes address, rate and parity, and goes after the indicator as each comes into force: at once, with saving, or with the
 * restart. What comes into force at once is written word by word, each at the place that the one before led to.
 * Answers to requests that move the unit are not counted on; where it is then is asked, at the new place and at the old one.
 */
export async function moveUnit(context: WriteContext, moving: Moving, wanted: readonly Wanted[], journal: WriteJournal): Promise<MoveEnd> {
  const { clock, stamp, onStep } = context
  const { unlock, save, lock, restart } = context.io.profile.procedures
  let { io } = context
  let at = moving.place
  const target = placeAfter(at, wanted)
  let soughtAt: Place | null = null
  const step = (which: WriteStep, says?: string) => onStep(which, 0, wanted.length, says)

  async function give(because: Cause, during: WriteStep): Promise<MoveEnd> {
    return { kind: 'trouble', because, during, target, ...(await lookEverywhere(context, moving, target, at, soughtAt)) }
  }

  /** Goes to `next` once the unit answers there; otherwise says why not. */
  async function follow(next: Place, withinMs: number): Promise<BusFailure | null> {
    if (samePlace(next, at)) return null
    step('following', lookingAt(next, moving.place))
    // It has gone there already: it is followed whether the disk takes this line or not.
    journal.note({ kind: 'step', at: stamp(), step: `following to ${placeText(next)}` })
    const reached = await moving.ioAt(next)
    if (!reached.ok) return reached.failure
    const answering = await lookFor(clock, reached.value, moving.who, withinMs)
    if (answering.kind !== 'ours') {
      soughtAt = next
      return failureOf(answering)
    }
    io = reached.value
    at = next
    return null
  }

  /** Steps that bring `moved` into force: what comes after the writes is done where the unit is then. */
  async function runAndFollow(steps: readonly Step[], moved: readonly Wanted[]): Promise<BusFailure | null> {
    const next = placeAfter(at, moved)
    const cut = steps.findIndex((s) => 'until' in s || 'answersAgainWithinMs' in s)
    const [before, after] = cut < 0 || samePlace(next, at) ? [steps, []] : [steps.slice(0, cut), steps.slice(cut)]
    const done = await runSteps(io, before, clock)
    if (!done.ok && (samePlace(next, at) || isCertain(done.failure))) return done.failure
    const lost = await follow(next, awayMs(after))
    if (lost) return lost
    const rest = await runSteps(io, after, clock)
    return rest.ok ? null : rest.failure
  }

  if (unlock) {
    step('unlocking')
    const unlocked = await runSteps(io, unlock.steps, clock)
    if (!unlocked.ok) return give(unlocked.failure, 'unlocking')
  }
  const later = wanted.filter((w) => w.register.takesEffect !== 'now')
  for (const group of [later, ...byWord(wanted.filter((w) => w.register.takesEffect === 'now'))]) {
    if (group.length === 0) continue
    step('writing')
    const written = await io.write(group, (keys) => journal.note({ kind: 'sending', at: stamp(), keys }))
    const next = group === later ? at : placeAfter(at, group)
    if (!written.ok && (samePlace(next, at) || isCertain(written.failure))) return give(written.failure, 'writing')
    const lost = await follow(next, awayMs([]))
    if (lost) return give(lost, 'following')
  }
  if (save) {
    step('saving')
    const noted = journal.note({ kind: 'step', at: stamp(), step: 'saving' })
    if (!noted.ok) return give(noted.failure, 'saving')
    const lost = await runAndFollow(
      save.steps,
      later.filter((w) => w.register.takesEffect === 'after-save'),
    )
    if (lost) return give(lost, 'saving')
  }
  const waiting = later.filter((w) => w.register.takesEffect === 'after-restart')
  if (lock && !(restart && waiting.length > 0)) {
    const locked = await runSteps(io, lock.steps, clock)
    if (!locked.ok) return give(locked.failure, 'saving')
  }
  if (waiting.length > 0 && restart) {
    step('following')
    const noted = journal.note({ kind: 'step', at: stamp(), step: 'restarting' })
    if (!noted.ok) return give(noted.failure, 'following')
    const lost = await runAndFollow(restart.steps, waiting)
    if (lost) return give(lost, 'following')
  }
  return { kind: 'there', io, place: at, when: samePlace(at, target) ? 'now' : 'at-next-power-up' }
}

/** Where the values of these registers lead; texts that lead nowhere were refused before the write. */
export function placeAfter(place: Place, wanted: readonly Wanted[]): Place {
  return placeWith(place, Object.fromEntries(wanted.map((w) => [w.register.name, w.value]))) ?? place
}

/** One sentence or two on what to do, for the person at the machine. */
export function adviceFor({ answers, place }: Found, old: Place, target: Place): string {
  const [there, here] = [placeText(target), placeText(old)]
  switch (answers) {
    case 'at-old':
      return `It answers at its old ${here}.`
    case 'at-new':
      return `It answers at its new ${there}, but the write did not come to its end. Complete the open write, or restore to send it back.`
    case 'between':
      return `It answers at ${place ? placeText(place) : 'neither'}: only a part is in force. Complete the open write, or restore to send it back.`
    case 'unclear':
      return `Something answers at ${there}, but not soundly, or it is another unit: two may share the address. Switch the other one off, then complete or restore the open write.`
    case 'at-neither':
      return `It answers neither at its new ${there} nor at its old ${here}. Look at the bus menu of its front panel, switch it off and on, or scan the line.${
        sameFormat(old.format, target.format) ? '' : ' A serial device server in between has to be given the new line format, too.'
      } Then complete or restore the open write: both places are tried.`
  }
}

/** What is waited for, said to people. */
export const lookingAt = (place: Place, old: Place): string =>
  `Looking for it at its ${samePlace(place, old) ? 'old' : 'new'} ${placeText(place)}; silence has to be waited out`

/** After trouble: at the new place, where it answered last, and at the old one; the bus is left open for where it was found. */
async function lookEverywhere(
  { clock, onStep }: WriteContext,
  moving: Moving,
  target: Place,
  last: Place,
  soughtAt: Place | null,
): Promise<Found> {
  const onLook = (place: Place) => onStep('following', 0, 1, lookingAt(place, moving.place))
  const around = await lookAround({ ...moving, clock, onLook }, [target, last, moving.place], true, soughtAt)
  if (around.kind !== 'there') return { answers: around.kind === 'nowhere' && around.unclear ? 'unclear' : 'at-neither', place: null }
  const { place } = around
  return { answers: samePlace(place, moving.place) ? 'at-old' : samePlace(place, target) ? 'at-new' : 'between', place }
}

function failureOf(answering: Answering): BusFailure {
  if (answering.kind === 'failed' || answering.kind === 'unclear' || answering.kind === 'nobody') return answering.because
  return { kind: 'foreign', bytes: 'another unit answers' }
}

/** Registers of one word are written in one request. */
function byWord(wanted: readonly Wanted[]): Wanted[][] {
  const place = (r: Register) => `${r.table} ${r.address}`
  const words = [...new Set(wanted.map((w) => place(w.register)))]
  return words.map((word) => wanted.filter((w) => place(w.register) === word))
}
