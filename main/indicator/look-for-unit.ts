import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Place } from '../../app/contract/place.ts'
import { samePlace } from '../../app/profile/bus-registers.ts'
import type { Profile, Step } from '../../app/profile/schema.ts'
import type { Result } from '../../app/result.ts'
import type { Clock } from './procedure.ts'
import type { UnitIo } from './unit-io.ts'
import { type Answering, askWho, type Who } from './who-answers.ts'
import type { Cause } from './write-context.ts'

/** How long an indicator is looked for at the least where it was sent, in ms; a restart states its own time. */
const leastLookMs = 2_000
const lookEveryMs = 100
const leastLooks = 3

/** How long an indicator may stay away after these steps, in ms. */
export const awayMs = (steps: readonly Step[]): number =>
  Math.max(leastLookMs, ...steps.flatMap((s) => ('answersAgainWithinMs' in s ? [s.answersAgainWithinMs] : [])))

/** How long it may be away whatever it was last told to do, in ms. */
export const longestAwayMs = ({ procedures }: Profile): number =>
  awayMs(Object.values(procedures).flatMap((procedure) => procedure?.steps ?? []))

/** Looks for one unit at one place: three times at least, and until `withinMs` has passed. */
export async function lookFor(clock: Clock, io: UnitIo, who: Who, withinMs: number): Promise<Answering> {
  const until = clock.now() + withinMs
  for (let looks = 1; ; looks++) {
    const answering = await askWho(io, who)
    const isOver = answering.kind === 'ours' || (answering.kind === 'failed' && isCertain(answering.because))
    if (isOver || (looks >= leastLooks && clock.now() >= until)) return answering
    await clock.pause(lookEveryMs)
  }
}

export type Around =
  | { kind: 'there'; place: Place }
  /** At none of them; `unclear` where something else answers at one, or not soundly. */
  | { kind: 'nowhere'; unclear: boolean }
  /** At one of them it could not even be asked: the link is down, or sending was stopped. */
  | { kind: 'failed'; because: BusFailure }

type Way = { clock: Clock; who: Who; ioAt(place: Place): Promise<Result<UnitIo, BusFailure>> }

/** Looks at each place once, in this order, several times over at each where `patient`. */
export async function lookAround({ clock, who, ioAt }: Way, places: readonly Place[], patient: boolean): Promise<Around> {
  let unclear = false
  let failed: BusFailure | null = null
  for (const place of places.filter((p, i) => places.findIndex((other) => samePlace(other, p)) === i)) {
    const reached = await ioAt(place)
    const answering = !reached.ok
      ? { kind: 'failed' as const, because: reached.failure }
      : patient
        ? await lookFor(clock, reached.value, who, 0)
        : await askWho(reached.value, who)
    if (answering.kind === 'ours') return { kind: 'there', place }
    if (answering.kind === 'failed') failed ??= answering.because
    unclear ||= answering.kind === 'other' || answering.kind === 'unclear'
  }
  return failed ? { kind: 'failed', because: failed } : { kind: 'nowhere', unclear }
}

/** Looks around again and again, the last time when `awayForMs` have passed: a unit that restarts meanwhile is not missed. */
export async function waitAround(way: Way, places: readonly Place[], awayForMs: number): Promise<Around> {
  const until = way.clock.now() + awayForMs
  for (;;) {
    const isLast = way.clock.now() >= until
    const around = await lookAround(way, places, false)
    if (around.kind !== 'nowhere' || isLast) return around
    await way.clock.pause(lookEveryMs)
  }
}

/** Nothing can have happened to the unit: asking where it is would say no more. A refusal is an answer. */
export const isCertain = ({ kind }: Cause) =>
  kind === 'stopped' || kind === 'link-down' || kind === 'other-master' || kind === 'refused' || kind === 'journal-not-kept'
