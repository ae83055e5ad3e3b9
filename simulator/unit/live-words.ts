import type { Register } from '../../app/profile/schema.ts'
import type { Channel, Live } from './channel.ts'
import type { Layout, Place } from './layout.ts'
import { putRaw, putValue, type Words } from './memory.ts'

type BitName = NonNullable<Register['bits']>[number]['name']
export type UnitState = { locked: boolean; unsaved: boolean; busy: boolean }

const bitOf = (name: BitName, live: Live, unit: UnitState): boolean => {
  switch (name) {
    case 'over-range':
      return live.over
    case 'under-range':
      return live.under
    case 'fault':
      return live.fault
    case 'motion':
      return live.motion
    case 'net':
      return live.net
    case 'at-zero':
      return live.atZero
    case 'locked':
      return unit.locked
    case 'unsaved':
      return unit.unsaved
    case 'busy':
      return unit.busy
    case 'shunt-on':
      return live.shunted
    case 'hold':
      return false
  }
}

/** What a live register of this name shows; undefined for a meaning that no channel has. */
const shownBy = (place: Place, channel: Channel, live: Live): number | undefined => {
  switch (place.register.name) {
    case 'live.reading':
    case 'live.net':
      return live.reading
    case 'live.gross':
      return live.gross
    case 'live.tare':
      return live.tare
    case 'live.signal':
    case 'live.counts':
      return channel.signalFor(place)
    default:
      return undefined
  }
}

const putLive = (words: Words, layout: Layout, place: Place, channel: Channel, live: Live, unit: UnitState): void => {
  if (place.register.bits) {
    const raw = place.register.bits.reduce((sum, { bit, name }) => sum + (bitOf(name, live, unit) ? 2 ** bit : 0), 0)
    putRaw(words, place, raw)
    return
  }
  const value = shownBy(place, channel, live)
  if (value !== undefined) putValue(words, layout, place, value)
}

/** Brings all live registers up to date from one moment of every channel. */
export const putLiveWords = (words: Words, layout: Layout, channels: readonly Channel[], unit: UnitState): void => {
  const lives = channels.map((channel) => ({ channel, live: channel.live() }))
  for (const place of layout.places) {
    if (place.register.role !== 'live') continue
    const found = lives.find(({ channel }) => channel.number === (place.register.channel ?? channels[0]?.number))
    if (found) putLive(words, layout, place, found.channel, found.live, unit)
  }
}
