import type { Place } from '../contract/place.ts'
import type { SerialFormat } from './schema.ts'

/** Registers that decide where an indicator is reached. */
const names: readonly string[] = ['bus.address', 'bus.baud', 'bus.parity']

export const isBusRegister = ({ name }: { name: string }): boolean => names.includes(name)

/** True where a change of this register changes the format of the line. */
export const isLineFormat = ({ name }: { name: string }): boolean => name === 'bus.baud' || name === 'bus.parity'

const parities = ['none', 'even', 'odd'] as const satisfies readonly SerialFormat['parity'][]

/**
 * Where an indicator is reached once these values are in force: an address, a rate in bit/s ("19200" or an option that names it),
 * a parity by its word. Null where a text names none. Stop bits stay as they are; a format of null (a gateway's own line) stays null.
 */
export function placeWith(place: Place, values: Readonly<Record<string, string | null | undefined>>): Place | null {
  let { unit, format } = place
  for (const [name, text] of Object.entries(values)) {
    const number = Number(/\d+/.exec(text ?? '')?.[0])
    if (name === 'bus.address') {
      if (!(number >= 1 && number <= 247)) return null
      unit = number
    } else if (name === 'bus.baud') {
      if (!(number >= 300 && number <= 921_600)) return null
      format = format && { ...format, baud: number }
    } else if (name === 'bus.parity') {
      const parity = parities.find((p) => text?.toLowerCase().includes(p))
      if (!parity) return null
      format = format && { ...format, parity }
    }
  }
  return { unit, format }
}

/** Where an indicator may be if only some of these changes came into force: all of them first, none next, then the mixtures. */
export function possiblePlaces(before: Place, changes: Readonly<Record<string, string>>): Place[] {
  const entries = Object.entries(changes)
  const masks = Array.from({ length: 2 ** entries.length }, (_, i) => i)
  const ordered = [masks.length - 1, 0, ...masks.slice(1, -1)]
  const places = ordered.flatMap((mask) => {
    const place = placeWith(before, Object.fromEntries(entries.filter((_, i) => (mask & (1 << i)) !== 0)))
    return place ? [place] : []
  })
  return places.filter((p, i) => places.findIndex((other) => samePlace(other, p)) === i)
}

export const sameFormat = (a: SerialFormat | null, b: SerialFormat | null): boolean =>
  a === b || (a !== null && b !== null && a.baud === b.baud && a.parity === b.parity && a.stopBits === b.stopBits)

export const samePlace = (a: Place, b: Place): boolean => a.unit === b.unit && sameFormat(a.format, b.format)

/** "address 7 at 19200 even 1", or the address alone where the line's format is not ours to say. */
export const placeText = ({ unit, format }: Place): string =>
  `address ${unit}${format ? ` at ${format.baud} ${format.parity} ${format.stopBits}` : ''}`
