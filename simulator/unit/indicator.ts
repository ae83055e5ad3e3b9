import type { BenchIndicator } from '../description.ts'
import { type Bank, isRefused, type Refused } from '../modbus/bank.ts'
import { seedFor } from '../physics/noise.ts'
import { type BusSettings, busSettings, putBusSettings } from './bus-settings.ts'
import { type Channel, startChannel } from './channel.ts'
import { defaultWords } from './default-words.ts'
import { cell, type Layout, layoutOf, type Place, type Table } from './layout.ts'
import { putLiveWords } from './live-words.ts'
import { holdInSteps, outOfLimits, putRaw, putValue, putWords, rawAt, valueAt, type Words, wordsAt } from './memory.ts'
import { type RegisterFault, registerFaults } from './register-faults.ts'
import { type Routine, routinesOf } from './routines.ts'
import { selfDescription } from './self-description.ts'

export type Indicator = {
  readonly bank: Bank
  readonly channels: readonly Channel[]
  /** False while switched off or restarting, and for a model without a bus: nothing is heard. */
  listens(): boolean
  settings(): Record<string, number[]>
  saved(): Record<string, number[]>
  power(on: boolean): void
  panel(key: string, words: readonly number[]): void
  inject(fault: RegisterFault): void
  clearFaults(): void
  /** Reading on the display; undefined where it shows none. */
  shown(channel: Channel): number | undefined
  /** Address and line format that are in force. */
  bus(): BusSettings
}

type Working = { dueAt: number; routine: Routine; finish: () => void }

const locked: Refused = { refused: 4 }

/** One virtual indicator: memory, lock, commands and inputs as its profile describes them. `clock` gives milliseconds. */
export const startIndicator = (given: BenchIndicator, seed: number, clock: () => number): Indicator => {
  const { profile } = given
  const layout: Layout = layoutOf(profile)
  const routines = routinesOf(profile)
  const lockable = routines.has('unlock')
  const mayOmit = (table: Table, address: number) =>
    given.gaps !== 'refuse' && layout.gapAround(table, address) <= profile.requests.readOver

  const saved: Words = defaultWords(layout, profile)
  putBusSettings(saved, layout, given)
  for (const [key, words] of Object.entries(given.words)) putWords(saved, placeOf(layout, key), words)
  let present: Words = new Map(saved)
  let atPowerUp: Words = new Map(saved)
  let unlocked = false
  let on = true
  let silentUntil = Number.NEGATIVE_INFINITY
  let working: Working[] = []
  const faults = registerFaults()

  const inForce = ({ register }: Place): Words =>
    register.takesEffect === 'now' ? present : register.takesEffect === 'after-save' ? saved : atPowerUp

  const startMs = clock()
  const channels = given.points.map((point) => {
    const own = seedFor(seed, `${given.key}@${point.channel}`)
    return startChannel({ profile, layout, point, seed: own, inForce }, startMs)
  })

  const keptPlaces = layout.places.filter(({ register }) => register.kept !== 'never')
  const settingPlaces = layout.places.filter(({ register }) => register.role === 'setting')
  const wordsOfSettings = (words: Words) => Object.fromEntries(settingPlaces.map((place) => [place.key, wordsAt(words, place)]))
  const copy = (from: Words, to: Words, places: readonly Place[]) => {
    for (const place of places) putWords(to, place, wordsAt(from, place))
  }
  const isUnsaved = () => settingPlaces.some((place) => rawAt(present, place) !== rawAt(saved, place))

  const powerUp = (now: number) => {
    working = []
    routines.reset()
    unlocked = false
    present = new Map(saved)
    atPowerUp = new Map(saved)
    for (const channel of channels) channel.restart(now)
  }

  const advance = () => {
    const now = clock()
    for (const channel of channels) channel.advance(now)
    for (const done of working.filter((work) => work.dueAt <= now)) {
      done.finish()
      for (const { name, equals } of done.routine.watched) for (const place of layout.byName(name)) putRaw(present, place, equals)
    }
    working = working.filter((work) => work.dueAt > now)
    return now
  }

  /** Takes the present signal for the one that belongs to the reading typed in `which`. */
  const capture = (which: 'lower' | 'upper', channel: Channel) => {
    const place = layout.byName(`scale.${which}.signal`).find(({ register }) => (register.channel ?? channel.number) === channel.number)
    if (place === undefined) return
    putValue(present, layout, place, channel.signalFor(place))
    if (place.register.kept === 'at-once') copy(present, saved, [place])
    channel.forgetZero()
  }

  const outOfRange = (channel: Channel) => channel.live().over || channel.live().under

  const act = (routine: Routine, place: Place, now: number): Refused | undefined => {
    const own = channels.filter((channel) => place.register.channel === undefined || channel.number === place.register.channel)
    const { action } = routine
    const needsSignal = action === 'zero' || action === 'tare' || action === 'capture-lower' || action === 'capture-upper'
    if (needsSignal && own.some(outOfRange)) return { refused: 4 }
    if ((action === 'zero' || action === 'tare') && own.some((channel) => channel.live().fault)) return { refused: 4 }
    let finish = () => {}
    switch (action) {
      case 'unlock':
        unlocked = true
        break
      case 'lock':
        unlocked = false
        break
      case 'save': {
        const words = new Map(present)
        finish = () => copy(words, saved, keptPlaces)
        break
      }
      case 'restart':
        powerUp(now)
        silentUntil = now + routine.silentMs
        return undefined
      case 'zero':
        for (const channel of own) channel.zero()
        break
      case 'tare':
        for (const channel of own) channel.tare()
        break
      case 'clear-tare':
        for (const channel of own) channel.clearTare()
        break
      case 'shunt-on':
      case 'shunt-off':
        if (own.some(({ point }) => point.shunt === undefined)) return { refused: 4 }
        for (const channel of own) channel.shunt(action === 'shunt-on')
        break
      case 'capture-lower':
      case 'capture-upper':
        finish = () => {
          for (const channel of own) capture(action === 'capture-lower' ? 'lower' : 'upper', channel)
        }
        break
    }
    for (const { name, equals } of routine.watched)
      for (const watched of layout.byName(name)) if (rawAt(present, watched) === equals) putRaw(present, watched, equals === 0 ? 1 : 0)
    working.push({ dueAt: now + routine.worksMs, routine, finish })
    if (routine.worksMs === 0) advance()
    return undefined
  }

  /** Registers of the range, each once, in order of address. */
  const touched = (table: Table, address: number, count: number): Place[] => {
    const found = new Set<Place>()
    for (let at = address; at < address + count; at++) for (const place of layout.at(table, at)) found.add(place)
    return [...found]
  }

  const read = (table: Table, address: number, count: number): number[] | Refused => {
    const places = touched(table, address, count)
    const missing = Array.from({ length: count }, (_, i) => address + i).some(
      (at) => layout.at(table, at).length === 0 && !mayOmit(table, at),
    )
    if (missing) return { refused: 2 }
    const refusal = faults.refusal(places, false)
    if (refusal) return refusal
    advance()
    putLiveWords(present, layout, channels, { locked: lockable && !unlocked, unsaved: isUnsaved(), busy: working.length > 0 })
    const lockPlace = layout.places.find(({ register }) => lockable && register.access !== 'write' && routines.locks(register.name))
    if (lockPlace) putRaw(present, lockPlace, unlocked ? 1 : 0)
    return Array.from({ length: count }, (_, i) => {
      const readable = layout.at(table, address + i).some(({ register }) => register.access !== 'write')
      return readable ? (present.get(cell(table, address + i)) ?? 0) : 0
    })
  }

  const addressRefusal = (table: 'holding' | 'coil', address: number, count: number): Refused | undefined => {
    for (let at = address; at < address + count; at++) {
      const places = layout.at(table, at)
      if (places.length === 0 || places.every(({ register }) => register.access === 'read')) return { refused: 2 }
    }
    return undefined
  }

  /** Registers whose number of decimals the write changes keep their value: their raw number moves. */
  const moveDependents = (before: Words, next: Words, written: readonly Place[]) => {
    for (const { when, moves } of profile.dependencies) {
      if (!written.some(({ register }) => register.name === when)) continue
      for (const place of moves.flatMap((name) => layout.byName(name))) {
        const { decimals } = place.register
        if (typeof decimals !== 'object' || decimals.register !== when || written.includes(place)) continue
        putValue(next, layout, place, valueAt(before, layout, place))
      }
    }
  }

  const write = (table: 'holding' | 'coil', address: number, values: readonly number[]): Refused | undefined => {
    const now = advance()
    const places = touched(table, address, values.length)
    const splits = places.some(({ register, size }) => register.address < address || register.address + size > address + values.length)
    if (splits) return { refused: 3 }
    const wordsFor = ({ register, size }: Place) => values.slice(register.address - address, register.address - address + size)
    const isSetting = ({ register }: Place) => register.role === 'setting' && !routines.uses(register.name)
    if (lockable && !unlocked && places.some(isSetting)) return locked
    if (profile.requests.oneParameterAWrite && new Set(places.map((place) => place.register.address)).size > 1) return { refused: 3 }
    const meaningless = places.filter(
      (place) => place.register.role === 'control' && routines.uses(place.register.name) && !routines.means(place, wordsFor(place)),
    )
    if (meaningless.length > 0) {
      for (const place of meaningless) routines.note(place, wordsFor(place))
      return { refused: 3 }
    }
    const refusal = faults.refusal(places, true)
    if (refusal) return refusal

    const writable = places.filter(({ register }) => register.access !== 'read')
    const next: Words = new Map(present)
    const kept = writable.filter((place) => !faults.ignores(place))
    for (const place of kept) putWords(next, place, wordsFor(place))
    for (const place of kept) holdInSteps(next, layout, place)
    if (kept.some((place) => outOfLimits(next, layout, place))) return { refused: 3 }
    moveDependents(present, next, kept)
    present = next
    copy(
      present,
      saved,
      kept.filter(({ register }) => register.kept === 'at-once'),
    )
    for (const place of kept)
      for (const routine of routines.note(place, wordsFor(place))) {
        const problem = act(routine, place, now)
        if (problem) return problem
      }
    return undefined
  }

  return {
    channels,
    bank: {
      longest: { read: profile.requests.longestRead, write: profile.requests.longestWrite },
      readWords: read,
      readBits(table, address, count) {
        const words = read(table, address, count)
        return isRefused(words) ? words : words.map((word) => word !== 0)
      },
      addressRefusal,
      writeWords: (address, words) => write('holding', address, words),
      writeBits: (address, bits) =>
        write(
          'coil',
          address,
          bits.map((bit) => (bit ? 1 : 0)),
        ),
      ...selfDescription(given, layout, () => present),
    },
    listens: () => on && clock() >= silentUntil && profile.registers.length > 0,
    settings() {
      advance()
      return wordsOfSettings(present)
    },
    saved() {
      advance()
      return wordsOfSettings(saved)
    },
    power(switchedOn) {
      const now = advance()
      on = switchedOn
      powerUp(now)
    },
    panel(key, words) {
      advance()
      const place = placeOf(layout, key)
      for (const memory of [present, saved]) putWords(memory, place, words)
    },
    inject: (fault) => {
      placeOf(layout, fault.register)
      faults.add(fault)
    },
    clearFaults: faults.clear,
    bus() {
      advance()
      return busSettings(layout, given, inForce)
    },
    shown(channel) {
      advance()
      const live = channel.live()
      return on && clock() >= silentUntil && !live.fault && !live.over && !live.under ? live.reading : undefined
    },
  }
}

const placeOf = (layout: Layout, key: string): Place => {
  const place = layout.byKey(key)
  if (place === undefined) throw new RangeError(`the profile has no register ${key}`)
  return place
}
