import { type PanelEntry, type Profile, type Register, registerKey } from '../../app/profile/schema.ts'
import { wordCount } from './register-words.ts'

/** `panel` is no table of the bus: it holds what can only be typed at the front panel. */
export type Table = Register['table'] | 'panel'

/** A register of the profile and the addresses it takes. Several may share them, each holding its own bits. */
export type Place = { key: string; register: Omit<Register, 'table'> & { table: Table }; size: number }

export type Layout = {
  places: readonly Place[]
  byKey(key: string): Place | undefined
  /** Registers that hold this meaning: one, or one per channel. */
  byName(name: string): readonly Place[]
  /** Registers at this address, in whole or in part. */
  at(table: Table, address: number): readonly Place[]
  /** Length of the run of unused addresses around this one, between two used ones; infinite at the ends of the table. */
  gapAround(table: Table, address: number): number
  has(table: Table): boolean
}

export const cell = (table: Table, address: number): string => `${table} ${address}`

/**
 * A panel entry as the unit keeps it: a whole number of two words, high word first, with the entry's decimals; for options
 * the place in their list, counted from 0.
 */
const panelPlace = (entry: PanelEntry, index: number): Place => {
  const { name, channel, decimals, unit, options, limits, evidence } = entry
  return {
    key: registerKey(entry),
    size: 2,
    register: {
      name,
      ...(channel !== undefined && { channel }),
      table: 'panel',
      address: 2 * index,
      type: 'i32',
      order: 'ABCD',
      ...(decimals !== undefined && { decimals: typeof decimals === 'object' ? { register: decimals.entry } : decimals }),
      ...(unit !== undefined && { unit: typeof unit === 'object' ? { register: unit.entry } : unit }),
      ...(options && { options: options.map((means, raw) => ({ raw, means })) }),
      ...(limits && { limits }),
      access: 'read',
      role: 'setting',
      kept: 'at-once',
      takesEffect: 'now',
      readBack: 'exact',
      evidence,
    },
  }
}

export const layoutOf = (profile: Profile): Layout => {
  const onBus = profile.registers.map((register): Place => {
    const bitTable = register.table === 'coil' || register.table === 'discrete'
    return { key: registerKey(register), register, size: bitTable ? 1 : wordCount(register.type) }
  })
  const written = new Set(onBus.map(({ key }) => key))
  const places = [...onBus, ...(profile.panel ?? []).map(panelPlace).filter(({ key }) => !written.has(key))]
  const atCell = new Map<string, Place[]>()
  const used = new Map<Table, number[]>()
  for (const place of places) {
    const { table, address } = place.register
    for (let at = address; at < address + place.size; at++) {
      const there = atCell.get(cell(table, at))
      if (there) there.push(place)
      else {
        atCell.set(cell(table, at), [place])
        used.set(table, [...(used.get(table) ?? []), at])
      }
    }
  }
  return {
    places,
    byKey: (key) => places.find((place) => place.key === key),
    byName: (name) => places.filter((place) => place.register.name === name),
    at: (table, address) => atCell.get(cell(table, address)) ?? [],
    gapAround(table, address) {
      const addresses = used.get(table) ?? []
      const before = Math.max(...addresses.filter((a) => a < address))
      const after = Math.min(...addresses.filter((a) => a > address))
      return after - before - 1
    },
    has: (table) => used.has(table),
  }
}
