import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Place } from '../../app/contract/place.ts'
import { isBusRegister, possiblePlaces, sameFormat } from '../../app/profile/bus-registers.ts'
import type { Profile, SerialFormat } from '../../app/profile/schema.ts'
import { ok, type Result } from '../../app/result.ts'
import type { OpenJournal } from '../files/write-journal.ts'
import { type Around, longestAwayMs, waitAround } from '../indicator/look-for-unit.ts'
import type { Clock } from '../indicator/procedure.ts'
import { type RequestPort, type UnitIo, unitIo } from '../indicator/unit-io.ts'
import { type Answering, answeringBy, type Who } from '../indicator/who-answers.ts'

export type ReachOptions = {
  place: Place
  profile: Profile
  port: RequestPort
  clock: Clock
  /** Opens the indicator's bus anew in this format. */
  reformat(format: SerialFormat | null): Promise<Result<null, BusFailure>>
}

/** The way to one indicator, wherever it is on its bus. */
export function unitReach({ place, profile, port, clock, reformat }: ReachOptions) {
  const pause = (ms: number) => clock.pause(ms)
  let open = place.format
  let here: { place: Place; io: UnitIo } = { place, io: unitIo(port, place.unit, profile, pause) }

  async function ioAt(next: Place): Promise<Result<UnitIo, BusFailure>> {
    if (!sameFormat(next.format, open)) {
      const reopened = await reformat(next.format)
      if (!reopened.ok) return reopened
      open = next.format
    }
    return ok(unitIo(port, next.unit, profile, pause))
  }

  return {
    place: () => here.place,
    io: () => here.io,
    ioAt,
    /** Takes this place for where the indicator is, whether it answers there now or not. */
    async goTo(next: Place): Promise<void> {
      const reached = await ioAt(next)
      here = { place: next, io: reached.ok ? reached.value : unitIo(port, next.unit, profile, pause) }
    },
    /** Who answers at an address nobody should have: any register will do. */
    async whoIsAt(unit: number): Promise<Answering> {
      const first = profile.registers.find((r) => r.role === 'identity') ?? profile.registers.find((r) => r.access !== 'write')
      const read = first ? await unitIo(port, unit, profile, pause).read([first], 'user') : ok(null)
      return read.ok ? { kind: 'other' } : answeringBy(read.failure)
    },
    /**
     * Looks for the indicator of an interrupted change of address or line format, wherever that may have led. It may be restarting:
     * it is looked for until it has had the time for that.
     */
    findAfter({ wanted }: OpenJournal['begin'], before: Place, who: Who, onLook: (place: Place) => void): Promise<Around> {
      const changes = Object.fromEntries(wanted.filter((w) => isBusRegister({ name: w.key })).map((w) => [w.key, w.value]))
      return waitAround({ clock, who, ioAt, onLook }, [...possiblePlaces(before, changes), here.place], longestAwayMs(profile))
    },
  }
}
