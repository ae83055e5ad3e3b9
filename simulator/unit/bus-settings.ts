import type { SerialFormat } from '../../app/profile/schema.ts'
import type { BenchIndicator } from '../description.ts'
import type { Layout, Place } from './layout.ts'
import { optionOf, putRaw, putValue, valueAt, type Words } from './memory.ts'

export type BusSettings = { unit: number; format: SerialFormat }

type Given = Pick<BenchIndicator, 'unit' | 'format' | 'profile'>

const usualFormat: SerialFormat = { baud: 9600, parity: 'none', stopBits: 1 }

const formatOf = ({ format, profile }: Given): SerialFormat => format ?? profile.serial ?? usualFormat

const numberMeant = (text: string | undefined): number | undefined => {
  const found = /\d+/.exec(text ?? '')
  return found ? Number(found[0]) : undefined
}

const parityMeant = (text: string | undefined): SerialFormat['parity'] | undefined =>
  (['none', 'even', 'odd'] as const).find((parity) => text?.toLowerCase().includes(parity))

const place = (layout: Layout, name: string): Place | undefined => layout.byName(name)[0]

const putNumber = (words: Words, layout: Layout, at: Place | undefined, value: number): void => {
  if (at === undefined) return
  const { options } = at.register
  const option = options?.find(({ means }) => numberMeant(means) === value)
  if (option) putRaw(words, at, option.raw)
  else if (!options) putValue(words, layout, at, value)
}

/** Puts the unit's address and line format into the registers bus.address, bus.baud and bus.parity, where the profile has them. */
export const putBusSettings = (words: Words, layout: Layout, given: Given): void => {
  const { baud, parity } = formatOf(given)
  putNumber(words, layout, place(layout, 'bus.address'), given.unit)
  putNumber(words, layout, place(layout, 'bus.baud'), baud)
  const chooser = place(layout, 'bus.parity')
  const option = chooser?.register.options?.find(({ means }) => parityMeant(means) === parity)
  if (chooser && option) putRaw(words, chooser, option.raw)
}

/** What those registers say as far as they are in force; otherwise what the unit was given. */
export const busSettings = (layout: Layout, given: Given, inForce: (place: Place) => Words): BusSettings => {
  const numberIn = (name: string): number | undefined => {
    const at = place(layout, name)
    if (at === undefined) return undefined
    return at.register.options ? numberMeant(optionOf(inForce(at), at)) : valueAt(inForce(at), layout, at)
  }
  const format = formatOf(given)
  const parity = place(layout, 'bus.parity')
  return {
    unit: numberIn('bus.address') ?? given.unit,
    format: {
      baud: numberIn('bus.baud') ?? format.baud,
      parity: (parity && parityMeant(optionOf(inForce(parity), parity))) ?? format.parity,
      stopBits: format.stopBits,
    },
  }
}
