import { expect, it } from 'vitest'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { ok } from '../../../app/result.ts'
import type { Outcome, Request } from '../../../main/bus/request.ts'
import { longestAwayMs, waitAround } from '../../../main/indicator/look-for-unit.ts'
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
  const look = (units: number[], wanted: Who = who) => waitAround({ clock, who: wanted, ioAt }, units.map(at), longestAwayMs(profile))
  return { asked, now: () => now, look }
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
