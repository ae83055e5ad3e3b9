import { cell, type Layout, type Place, type Table } from './layout.ts'
import { decodeWords, encodeWords, fieldOf, withField } from './register-words.ts'

/** Words by table and address. */
export type Words = Map<string, number>

export const wordsAt = (words: Words, place: Place): number[] =>
  Array.from({ length: place.size }, (_, i) => words.get(cell(place.register.table, place.register.address + i)) ?? 0)

const isBit = (table: Table): boolean => table === 'coil' || table === 'discrete'

/** Raw number of a register: its own bits only, where it shares a word. */
export const rawAt = (words: Words, place: Place): number => {
  const held = wordsAt(words, place)
  return isBit(place.register.table) ? (held[0] ?? 0) : fieldOf(decodeWords(place.register, held), place.register.field)
}

/** Puts a register's words in place; bits of other registers in the same word stay as they are. */
export const putWords = (words: Words, place: Place, given: readonly number[]): void => {
  const { register } = place
  let next = given
  if (register.field !== undefined && !isBit(register.table)) {
    const whole = { type: place.size === 1 ? ('u16' as const) : ('u32' as const), order: register.order }
    const value = fieldOf(decodeWords(whole, given), register.field)
    next = encodeWords(whole, withField(decodeWords(whole, wordsAt(words, place)), register.field, value))
  }
  next.slice(0, place.size).forEach((word, i) => {
    words.set(cell(register.table, register.address + i), word)
  })
}

/** Puts a raw number into a register. */
export const putRaw = (words: Words, place: Place, raw: number): void => {
  const { register } = place
  if (isBit(register.table)) words.set(cell(register.table, register.address), raw === 0 ? 0 : 1)
  else if (register.field === undefined) putWords(words, place, encodeWords(register, raw))
  else {
    const whole = { type: place.size === 1 ? ('u16' as const) : ('u32' as const), order: register.order }
    putWords(words, place, encodeWords(whole, raw * 2 ** register.field.from))
  }
}

/** Decimals of an integer register: fixed, or the number another register holds. */
export const decimalsOf = (words: Words, layout: Layout, place: Place): number => {
  const { decimals, channel } = place.register
  if (typeof decimals !== 'object') return decimals ?? 0
  const holders = layout.byName(decimals.register)
  const holder = holders.find((h) => h.register.channel === channel) ?? holders[0]
  if (holder === undefined) return 0
  return holder.register.options ? Number(optionOf(words, holder) ?? 0) : rawAt(words, holder)
}

/** Value of a register in its own unit. */
export const valueAt = (words: Words, layout: Layout, place: Place): number => rawAt(words, place) / 10 ** decimalsOf(words, layout, place)

/** Puts a value, in the register's own unit, rounded to what the register can hold. */
export const putValue = (words: Words, layout: Layout, place: Place, value: number): void => {
  const raw = value * 10 ** decimalsOf(words, layout, place)
  putRaw(words, place, place.register.type === 'f32' ? value : Math.round(raw))
}

/** Unit of a register as text; where another register names it, the meaning of that one's present option. */
export const unitOf = (words: Words, layout: Layout, place: Place): string | undefined => {
  const { unit, channel } = place.register
  if (typeof unit !== 'object') return unit
  const holders = layout.byName(unit.register)
  const holder = holders.find((h) => h.register.channel === channel) ?? holders[0]
  return holder === undefined ? undefined : optionOf(words, holder)
}

/** What the present option of a register means. */
export const optionOf = (words: Words, place: Place): string | undefined => {
  const raw = rawAt(words, place)
  return place.register.options?.find((option) => option.raw === raw)?.means
}

/**
 * A register whose read-back only comes near what was written keeps it in steps of its own: the largest power of two that stays
 * within what the profile allows.
 */
export const holdInSteps = (words: Words, layout: Layout, place: Place): void => {
  const { readBack } = place.register
  const value = valueAt(words, layout, place)
  if (readBack === 'exact' || !(Number(readBack.within) > 0) || !Number.isFinite(value)) return
  const step = 2 ** Math.floor(Math.log2(Number(readBack.within)))
  putValue(words, layout, place, Math.round(value / step) * step)
}

/** Why a raw content is not accepted by the register, or undefined where it is. */
export const outOfLimits = (words: Words, layout: Layout, place: Place): boolean => {
  const { register } = place
  const raw = rawAt(words, place)
  if (!Number.isFinite(raw)) return true
  if (register.options && !register.options.some((option) => option.raw === raw)) return true
  if (!register.limits) return false
  const hold = register.type === 'f32' ? Math.fround : (limit: number) => limit
  const value = valueAt(words, layout, place)
  return value < hold(Number(register.limits.from)) || value > hold(Number(register.limits.to))
}
