import { expect, it } from 'vitest'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { ok } from '../../../app/result.ts'
import type { Outcome, Request } from '../../../main/bus/request.ts'
import { longestAwayMs, lookAround, lookFor, waitAround } from '../../../main/indicator/look-for-unit.ts'
import { unitIo } from '../../../main/indicator/unit-io.ts'
import type { Who } from '../../../main/indicator/who-answers.ts'

/** Restarts within 3 s, by its profile. */
const profile = bundledProfiles.get('two-pairs-bus-in-registers')!
const who: Who = { 'identity.model': [1], 'identity.serial': [1, 1], 'identity.firmware': [1] }
const at = (unit: number) => ({ unit, format: null })

/** A line on which silence takes 1 s, and one unit that answers at an address from some moment on. */
function line(answersAt: number, fromMs: number) {
  let now = 0
  const asked: number[] = []
  const request = async (unit: number, what: Request): Promise<Outcome> => {
    asked.push(unit)
    if (unit === answersAt && now >= fromMs && what.kind === 'read-registers')
      return { ok: true, value: { kind: 'words', words: Array.from({ length: what.count }, () => 1), at: now, tookMs: 1 } }
    now += 1000
    return { ok: false, failure: { kind: 'no-reply', waitedMs: 1000, tries: 2 } }
  }
  const clock = {
    now: () => now,
    pause: async (ms: number) => {
      now += ms
    },
  }
  const ioAt = async ({ unit }: { unit: number }) => ok(unitIo({ request }, unit, profile, clock.pause))
  const told: number[] = []
  const way = { clock, who, ioAt, onLook: ({ unit }: { unit: number }) => void told.push(unit) }
  const look = (units: number[], wanted: Who = who) => waitAround({ ...way, who: wanted }, units.map(at), longestAwayMs(profile))
  const patiently = (units: number[], lookedFor: number | null = null) =>
    lookAround(way, units.map(at), true, lookedFor === null ? null : at(lookedFor))
  const alone = (unit: number, withinMs: number) => lookFor(clock, unitIo({ request }, unit, profile, clock.pause), who, withinMs)
  return { asked, told, now: () => now, look, patiently, alone }
}

it.each([7, 3])('a unit is found at address %i when it is back from a restart just before its time is over', async (address) => {
  expect(await line(address, 2999).look([7, 3])).toEqual({ kind: 'there', place: at(address) })
})

it('each place is asked again after the time for a restart, and once only in each turn', async () => {
  const { look, asked, now } = line(7, Number.POSITIVE_INFINITY)
  expect(await look([7, 3, 3])).toEqual({ kind: 'nowhere', unclear: false })
  expect(asked).toEqual([7, 3, 7, 3, 7, 3])
  expect(now()).toBeGreaterThan(3000)
})

it('another unit that answers there is not taken for it, nor for silence', async () => {
  const { look } = line(7, 0)
  expect(await look([7, 3], { ...who, 'identity.serial': [9, 9] })).toEqual({ kind: 'nowhere', unclear: true })
})

it('where nobody answers in four tries of two requests, nobody is there; more is not waited for', async () => {
  const { alone, asked, now } = line(7, Number.POSITIVE_INFINITY)
  expect(await alone(7, 0)).toMatchObject({ kind: 'nobody' })
  expect([asked, now()]).toEqual([[7, 7], 2100])
})

it('a unit that is given time is looked for until that is over', async () => {
  expect(await line(7, 8800).alone(7, 9000)).toEqual({ kind: 'ours' })
  expect(await line(7, 12_000).alone(7, 9000)).toMatchObject({ kind: 'nobody' })
})

it('after trouble the places take turns, and each look is told of', async () => {
  const lost = line(7, Number.POSITIVE_INFINITY)
  expect(await lost.patiently([7, 3, 3])).toEqual({ kind: 'nowhere', unclear: false })
  expect(lost.asked).toEqual([7, 3, 7, 3])
  expect(lost.told).toEqual(lost.asked)
  const there = line(3, 0)
  expect(await there.patiently([7, 3])).toEqual({ kind: 'there', place: at(3) })
  expect(there.asked.slice(0, 2)).toEqual([7, 3])
})

it('where it was just looked for in vain it is looked for last, and once more', async () => {
  const { asked, patiently } = line(7, Number.POSITIVE_INFINITY)
  expect(await patiently([7, 3], 7)).toEqual({ kind: 'nowhere', unclear: false })
  expect(asked).toEqual([3, 7, 3])
})

it('places of another line format are looked at apart, since the bus is opened anew for them', async () => {
  const formats: string[] = []
  const silent = async (): Promise<Outcome> => ({ ok: false, failure: { kind: 'no-reply', waitedMs: 1, tries: 1 } })
  const clock = { now: () => 0, pause: async () => {} }
  const place = (baud: number) => ({ unit: 3, format: { baud, parity: 'even', stopBits: 1 } as const })
  const ioAt = async ({ format }: { format: { baud: number } | null }) => {
    formats.push(String(format?.baud))
    return ok(unitIo({ request: silent }, 3, profile, clock.pause))
  }
  await lookAround({ clock, who, ioAt, onLook: () => {} }, [place(9600), place(19_200)], true)
  expect(formats).toEqual(['9600', '9600', '9600', '19200', '19200', '19200'])
})
