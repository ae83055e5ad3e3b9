import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { isBusRegister } from '../../app/profile/bus-registers.ts'
import { type Profile, type Register, registerKey } from '../../app/profile/schema.ts'
import { ok, type Result } from '../../app/result.ts'
import type { UnitIo } from './unit-io.ts'

/** Words that tell one indicator from another, by register key. */
export type Who = Readonly<Record<string, readonly number[]>>

export type Answering =
  | { kind: 'ours' }
  /** Another unit, or one that refuses what ours would tell. */
  | { kind: 'other' }
  | { kind: 'nobody'; because: BusFailure }
  /** Bytes that are no sound answer: perhaps two at once. */
  | { kind: 'unclear'; because: BusFailure }
  | { kind: 'failed'; because: BusFailure }

/** What tells it from others: its identity; where it gives none, all its settings but those of the bus. */
function telling(profile: Profile): Register[] {
  const identity = profile.registers.filter((r) => r.role === 'identity' && r.access !== 'write')
  return identity.length > 0 ? identity : profile.registers.filter((r) => r.role === 'setting' && !isBusRegister(r))
}

export async function readWho(io: UnitIo): Promise<Result<Who, BusFailure>> {
  const read = await io.read(telling(io.profile), 'user')
  return read.ok
    ? ok(Object.fromEntries(telling(io.profile).map((r) => [registerKey(r), read.value.words.get(registerKey(r)) ?? []])))
    : read
}

/** Asks once who is there. */
export async function askWho(io: UnitIo, who: Who): Promise<Answering> {
  const read = await readWho(io)
  if (read.ok) return { kind: sameWho(who, read.value) ? 'ours' : 'other' }
  return answeringBy(read.failure)
}

/** What a failure says about somebody being there. */
export function answeringBy(because: BusFailure): Answering {
  switch (because.kind) {
    case 'refused':
      // A gateway answers for a unit that is not there with 0A or 0B.
      return because.code === 10 || because.code === 11 ? { kind: 'nobody', because } : { kind: 'other' }
    case 'garbled':
    case 'foreign':
      return { kind: 'unclear', because }
    case 'no-reply':
    case 'set-aside':
      return { kind: 'nobody', because }
    case 'link-down':
    case 'stopped':
    case 'other-master':
      return { kind: 'failed', because }
  }
}

export const sameWho = (a: Who, b: Who): boolean => Object.entries(a).every(([key, words]) => b[key]?.join() === words.join())
