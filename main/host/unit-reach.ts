import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Place } from '../../app/contract/place.ts'
import { possiblePlaces, sameFormat } from '../../app/profile/bus-registers.ts'
import type { Profile, SerialFormat } from '../../app/profile/schema.ts'
import { ok, type Result } from '../../app/result.ts'
import type { OpenJournal } from '../files/write-journal.ts'
import { type RequestPort, type UnitIo, unitIo } from '../indicator/unit-io.ts'
import { type Answering, answeringBy, askWho } from '../indicator/who-answers.ts'

export type ReachOptions = {
  place: Place
  profile: Profile
  port: RequestPort
  pause(ms: number): Promise<void>
  /** Opens the indicator's bus anew in this format. */
  reformat(format: SerialFormat | null): Promise<Result<null, BusFailure>>
}

/** The way to one indicator, wherever it is on its bus. */
export function unitReach({ place, profile, port, pause, reformat }: ReachOptions) {
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
    /** Where the indicator of an interrupted change of address or line format answers; null where it does not anywhere. */
    async findAfter({ begin }: OpenJournal): Promise<Place | null> {
      const changes = Object.fromEntries(begin.wanted.filter((w) => w.key.startsWith('bus.')).map((w) => [w.key, w.value]))
      if (!begin.place || !begin.who) return here.place
      for (const candidate of [...possiblePlaces(begin.place, changes), here.place]) {
        const reached = await ioAt(candidate)
        if (reached.ok && (await askWho(reached.value, begin.who)).kind === 'ours') return candidate
      }
      return null
    },
  }
}
