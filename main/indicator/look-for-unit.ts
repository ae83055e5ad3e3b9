import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Place } from '../../app/contract/place.ts'
import { sameFormat, samePlace } from '../../app/profile/bus-registers.ts'
import type { Profile, Step } from '../../app/profile/schema.ts'
import type { Result } from '../../app/result.ts'
import type { Clock } from './procedure.ts'
import type { UnitIo } from './unit-io.ts'
import { type Answering, askWho, type Who } from './who-answers.ts'
import type { Cause } from './write-context.ts'

/** How long an indicator is looked for at the least where it was sent, in ms; a restart states its own time. */
const leastLookMs = 2_000
const lookEveryMs = 100
/** A place is asked so often before nobody is said to be there; a request that was tried twice counts twice. */
const leastAsks = 3

/** How long an indicator may stay away after these steps, in ms. */
export const awayMs = (steps: readonly Step[]): number =>
  Math.max(leastLookMs, ...steps.flatMap((s) => ('answersAgainWithinMs' in s ? [s.answersAgainWithinMs] : [])))

/** How long it may be away whatever it was last told to do, in ms. */
export const longestAwayMs = ({ procedures }: Profile): number =>
  awayMs(Object.values(procedures).flatMap((procedure) => procedure?.steps ?? []))

/** Looks for one unit at one place: asks three times at least, and until `withinMs` has passed. */
export async function lookFor(clock: Clock, io: UnitIo, who: Who, withinMs: number): Promise<Answering> {
  const until = clock.now() + withinMs
  for (let asks = 0; ; ) {
    const answering = await askWho(io, who)
    asks += asksOf(answering)
    const isOver = answering.kind === 'ours' || (answering.kind === 'failed' && isCertain(answering.because))
    if (isOver || (asks >= leastAsks && clock.now() >= until)) return answering
    await clock.pause(lookEveryMs)
  }
}

const asksOf = (answering: Answering) =>
  answering.kind === 'nobody' && answering.because.kind === 'no-reply' ? answering.because.tries : 1

export type Around =
  | { kind: 'there'; place: Place }
  /** At none of them; `unclear` where something else answers at one, or not soundly. */
  | { kind: 'nowhere'; unclear: boolean }
  /** At one of them it could not even be asked: the link is down, or sending was stopped. */
  | { kind: 'failed'; because: BusFailure }

type Way = {
  clock: Clock
  who: Who
  ioAt(place: Place): Promise<Result<UnitIo, BusFailure>>
  onLook(place: Place): void
}

/**
 * Looks at each place in turn, and again where nobody answered: `patient`, three times at least, but where it was `lookedFor`
 * that often already only once more. Places of one line format take turns, since the bus is opened anew for another.
 */
export async function lookAround(way: Way, places: readonly Place[], patient: boolean, lookedFor: Place | null = null): Promise<Around> {
  let unclear = false
  let failed: BusFailure | null = null
  const different = places.filter((p, i) => places.findIndex((other) => samePlace(other, p)) === i)
  for (const group of byFormat(different)) {
    const left = group.map((place) => ({ place, asks: patient && !(lookedFor && samePlace(place, lookedFor)) ? leastAsks : 1 }))
    // Most to ask first: where it has just been looked for in vain comes last.
    left.sort((a, b) => b.asks - a.asks)
    for (let round = 1; left.some((l) => l.asks > 0); round++) {
      if (round > 1) await way.clock.pause(lookEveryMs)
      for (const one of left.filter((l) => l.asks > 0)) {
        way.onLook(one.place)
        const reached = await way.ioAt(one.place)
        const answering = reached.ok ? await askWho(reached.value, way.who) : { kind: 'failed' as const, because: reached.failure }
        if (answering.kind === 'ours') return { kind: 'there', place: one.place }
        one.asks = answering.kind === 'failed' ? 0 : one.asks - asksOf(answering)
        if (answering.kind === 'failed') failed ??= answering.because
        unclear ||= answering.kind === 'other' || answering.kind === 'unclear'
      }
    }
  }
  return failed ? { kind: 'failed', because: failed } : { kind: 'nowhere', unclear }
}

function byFormat(places: readonly Place[]): Place[][] {
  const groups: Place[][] = []
  for (const place of places) {
    const group = groups.find(([first]) => first && sameFormat(first.format, place.format))
    if (group) group.push(place)
    else groups.push([place])
  }
  return groups
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
