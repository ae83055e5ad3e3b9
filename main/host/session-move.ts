import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Place } from '../../app/contract/place.ts'
import type { WriteFailure } from '../../app/contract/views.ts'
import { isBusRegister, isLineFormat, placeText, possiblePlaces } from '../../app/profile/bus-registers.ts'
import { registerKey } from '../../app/profile/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { OpenJournal, WriteJournal } from '../files/write-journal.ts'
import { adviceFor, type Found, lookingAt, type Moving, placeAfter } from '../indicator/move-unit.ts'
import { readWho } from '../indicator/who-answers.ts'
import type { Wanted, WriteEnd } from '../indicator/write-context.ts'
import type { unitReach } from './unit-reach.ts'
import type { HostClock } from './world.ts'

export type Refusal = { kind: 'refused-request'; why: string; where?: string }

export type MoveRules = {
  /** Why the indicator must not go there, by what the job knows of its bus; null where it may. */
  mayMove(from: Place, to: Place, lineFormat: boolean): string | null
  /** Keeps in the job where the indicator is reached from now on; says why where that could not be saved. */
  settle(place: Place): Result<null, string>
}

export const movesOf = (wanted: readonly Wanted[]) => wanted.filter((w) => isBusRegister(w.register))

/** What one session does about address and line format: says it beforehand, refuses, makes ready, and settles afterwards. */
export function sessionMove(reach: ReturnType<typeof unitReach>, { mayMove, settle }: MoveRules, { now, stamp }: HostClock) {
  const nothingWritten = (because: BusFailure) =>
    fail<WriteFailure>({ kind: 'failed', because, during: 'reading-again', end: 'nothing-written', parameters: [] })

  return {
    cautions(wanted: readonly Wanted[]): string[] {
      const last = movesOf(wanted)
      if (last.length === 0) return []
      const [here, there] = [placeText(reach.place()), placeText(placeAfter(reach.place(), last))]
      return [
        `It moves from ${here} to ${there}. That goes last, when everything else is written and saved, and cannot be put back over a lost line: have its front panel within reach. This program follows it to its new place.`,
      ]
    },

    /** Why what is wanted leads nowhere it may go; null where it may, or nothing moves. */
    barred(wanted: readonly Wanted[]): Refusal | null {
      const last = movesOf(wanted)
      const [first] = last
      if (!first) return null
      const from = reach.place()
      const why = mayMove(
        from,
        placeAfter(from, last),
        last.some((w) => isLineFormat(w.register)),
      )
      return why === null ? null : { kind: 'refused-request', why, where: registerKey(first.register) }
    },

    /** Makes ready to go after the indicator; nobody else may answer where it goes. Null where nothing moves. */
    async prepare(wanted: readonly Wanted[]): Promise<Result<Moving | null, WriteFailure>> {
      const last = movesOf(wanted)
      if (last.length === 0) return ok(null)
      const [place, target] = [reach.place(), placeAfter(reach.place(), last)]
      if (target.unit !== place.unit) {
        const there = await reach.whoIsAt(target.unit)
        if (there.kind === 'failed') return nothingWritten(there.because)
        if (there.kind !== 'nobody')
          return fail({
            kind: 'not-allowed',
            why: `Something answers at address ${target.unit} already. Two units with one address disturb each other: choose another, or take that unit off the bus.`,
          })
      }
      const who = await readWho(reach.io())
      return who.ok ? ok({ place, who: who.value, ioAt: reach.ioAt }) : nothingWritten(who.failure)
    },

    /** Goes where the write ended, and tells the job. The journal of a move ends only when the job names the new place. */
    async settle(moving: Moving, end: WriteEnd, log: WriteJournal): Promise<WriteEnd['result']> {
      const place = end.place ?? moving.place
      await reach.goTo(place)
      const settled = settle(place)
      if (!end.result.ok) return end.result
      const ended = settled.ok ? log.note({ kind: 'end', at: stamp(), outcome: 'written' }) : fail(settled.failure)
      if (ended.ok) return end.result
      const advice = `It answers at ${placeText(place)}${settled.ok ? '' : ', which the job does not say yet'}. Free the disk, then complete the open write.`
      return fail({
        kind: 'failed',
        because: typeof ended.failure === 'string' ? { kind: 'job-not-saved', why: ended.failure } : ended.failure,
        during: 'following',
        end: 'not-restored',
        parameters: end.result.value.written.map((d) => ({ key: d.key, wanted: d.intended, before: d.held, now: { value: d.intended } })),
        whereabouts: { old: moving.place, new: place, answers: 'at-new', advice },
      })
    },

    /** After an interrupted move: goes to the indicator, wherever it answers. */
    async goWhereItIs({ begin }: OpenJournal, says: (text: string) => void): Promise<Result<null, WriteFailure>> {
      const { place: before, who } = begin
      if (!before || !who) return ok(null)
      const home = reach.place()
      const beganAt = now()
      const around = await reach.findAfter(begin, before, who, (place) => says(lookingAt(place, before)))
      await reach.goTo(around.kind === 'there' ? around.place : home)
      if (around.kind === 'there') return ok(null)
      const [target = before] = possiblePlaces(before, Object.fromEntries(begin.wanted.map((w) => [w.key, w.value])))
      const found: Found = { answers: around.kind === 'nowhere' && around.unclear ? 'unclear' : 'at-neither', place: null }
      const whereabouts = { old: before, new: target, answers: found.answers, advice: adviceFor(found, before, target) }
      return fail({
        kind: 'failed',
        because: around.kind === 'failed' ? around.because : { kind: 'no-reply', waitedMs: now() - beganAt, tries: 2 },
        during: 'following',
        end: 'nothing-written',
        parameters: begin.wanted.map((w) => ({
          key: w.key,
          wanted: w.value,
          before: begin.before.values[w.key]?.value ?? null,
          now: 'unknown' as const,
        })),
        // Where nobody could be asked, nothing is known of where it is.
        ...(around.kind === 'failed' ? {} : { whereabouts }),
      })
    },
  }
}
