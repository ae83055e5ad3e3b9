import type { Difference } from '../contract/views.ts'
import type { HeldValue, Intended, SettingsImage } from '../job/schema.ts'
import { compareExact, exact } from '../quantity/exact.ts'
import { fail, ok, type Result } from '../result.ts'
import { type CodecFailure, decode, encode, rawField } from './codec.ts'
import { type Profile, type Register, registerKey } from './schema.ts'
import { settingWords } from './setting-words.ts'

/** Registers that are configuration to be kept, compared and restored. */
export const settingRegisters = (p: Profile): Register[] => p.registers.filter((r) => r.role === 'setting')

export function findRegister(p: Profile, key: string): Register | undefined {
  return p.registers.find((r) => registerKey(r) === key)
}

/** The register of this name that belongs to the same channel, or to the whole indicator. */
export function siblingKey(p: Profile, r: Register, name: string): string | undefined {
  const found =
    p.registers.find((x) => x.name === name && x.channel === r.channel) ??
    p.registers.find((x) => x.name === name && x.channel === undefined)
  return found && registerKey(found)
}

/** Decimals of a register, resolved through the words that were read together with it. */
export function decimalsFrom(p: Profile, r: Register, wordsOf: (key: string) => readonly number[] | undefined): number | undefined {
  if (typeof r.decimals !== 'object') return r.decimals
  const key = siblingKey(p, r, r.decimals.register)
  const holder = key === undefined ? undefined : findRegister(p, key)
  const words = key === undefined ? undefined : wordsOf(key)
  const text = holder && words && decode(holder, words)
  return text === null || text === undefined || !/^\d$/.test(text) ? undefined : Number(text)
}

/** Unit of a register's value, resolved through what an indicator holds. */
export function unitFrom(p: Profile, r: Register, valueAt: ValueAt): string | undefined {
  if (typeof r.unit !== 'object') return r.unit
  const key = siblingKey(p, r, r.unit.register)
  return (key === undefined ? undefined : valueAt(key)) ?? undefined
}

type ValueAt = (key: string) => string | null | undefined

/** Units of one setting before and after, as a difference tells them: where the indicator changes its unit, the two numbers are in different ones. */
export function unitsAcross(p: Profile, r: Register, before: ValueAt, after: ValueAt): Pick<Difference, 'unit' | 'heldUnit'> {
  if (r.options) return {}
  const [was = '', is = ''] = [unitFrom(p, r, before), unitFrom(p, r, after)]
  return { ...(is === '' ? {} : { unit: is }), ...(was === is ? {} : { heldUnit: was }) }
}

/** Decodes words read together; each value by the decimals that came with it. */
export function interpret(p: Profile, words: ReadonlyMap<string, readonly number[]>): Record<string, HeldValue> {
  const values: Record<string, HeldValue> = {}
  for (const [key, held] of words) {
    const r = findRegister(p, key)
    if (r) values[key] = { words: [...held], value: decode(r, held, { decimals: decimalsFrom(p, r, (k) => words.get(k)) }) }
  }
  return values
}

/** Does what was read back hold what was wanted, by the profile's own rule of comparison? */
export function agrees(r: Register, wanted: { words: readonly number[]; value: string | null }, got: HeldValue): boolean {
  if (sameBits(r, wanted.words, got.words)) return true
  if (r.readBack === 'exact' || wanted.value === null || got.value === null) return false
  const apart = exact(wanted.value).sub(exact(got.value))
  return compareExact(apart.abs(), exact(r.readBack.within)) <= 0
}

/** Do two contents agree in the bits that belong to this register? Others may share its words. */
export function sameBits(r: Register, a: readonly number[], b: readonly number[]): boolean {
  return a.length === b.length && (r.field ? rawField(r, a) === rawField(r, b) : a.every((w, i) => w === b[i]))
}

/** Words for every intended value, encoded against the decimals that will hold once they are written. */
export function encodeIntended(
  p: Profile,
  intended: Intended,
  held: SettingsImage,
): Result<Map<string, number[]>, CodecFailure & { key: string }> {
  const words = new Map<string, number[]>()
  const after = (key: string) => words.get(key) ?? held.values[key]?.words
  const ordered = Object.entries(intended).sort(([a], [b]) => Number(saysDecimals(p, b)) - Number(saysDecimals(p, a)))
  for (const [key, text] of ordered) {
    const r = findRegister(p, key)
    const refused = (failure: CodecFailure) => fail({ ...failure, why: `${settingWords(key, p.channels)}: ${failure.why}`, key })
    if (!r) return refused({ kind: 'no-such-option', why: 'the profile has no such setting' })
    if (r.access !== 'read-write') return refused({ kind: 'read-only', why: 'it can only be read' })
    const sharing = p.registers.find((x) => x !== r && x.table === r.table && x.address === r.address && words.has(registerKey(x)))
    const current = sharing ? words.get(registerKey(sharing)) : held.values[key]?.words
    const encoded = encode(r, text, { decimals: decimalsFrom(p, r, after), current })
    if (!encoded.ok) return refused(encoded.failure)
    words.set(key, encoded.value)
    for (const other of p.registers)
      if (other !== r && r.field && other.table === r.table && other.address === r.address && words.has(registerKey(other)))
        words.set(registerKey(other), encoded.value)
  }
  return ok(words)
}

/** Whether an indicator keeps the value of a register, moving its raw number, where the decimals it goes by change. */
export const keepsValue = (p: Profile, r: Register): boolean =>
  p.dependencies.some((d) => typeof r.decimals === 'object' && d.when === r.decimals.register && d.moves.includes(r.name))

const movesOthers = (p: Profile, r: Register) => saysDecimals(p, registerKey(r)) || p.dependencies.some((d) => d.when === r.name)

const saysDecimals = (p: Profile, key: string) =>
  p.registers.some((r) => typeof r.decimals === 'object' && siblingKey(p, r, r.decimals.register) === key)

/**
 * Intended values that an indicator does not hold, in the order of writing: what moves others first, then as the profile has them.
 * Where the decimals of a value change, equal raw words say nothing: it agrees only if the indicator moves it and its value stays.
 */
export function differences(p: Profile, held: SettingsImage, intended: Intended): Result<Difference[], CodecFailure & { key: string }> {
  const encoded = encodeIntended(p, intended, held)
  if (!encoded.ok) return encoded
  const list: Difference[] = []
  const changes = (key: string | undefined) => {
    const [wanted, now] = key === undefined ? [] : [encoded.value.get(key), held.values[key]?.words]
    return wanted !== undefined && wanted.join() !== now?.join()
  }
  const isAsIntended = (r: Register, words: readonly number[], wanted: string, now: HeldValue) => {
    const holder = typeof r.decimals === 'object' ? siblingKey(p, r, r.decimals.register) : undefined
    if (!changes(holder)) return agrees(r, { words, value: wanted }, now)
    return keepsValue(p, r) && now.value !== null && compareExact(exact(wanted), exact(now.value)) === 0
  }
  for (const r of [...p.registers].sort((a, b) => Number(movesOthers(p, b)) - Number(movesOthers(p, a)))) {
    const key = registerKey(r)
    const words = encoded.value.get(key)
    const wanted = intended[key]
    if (!words || wanted === undefined) continue
    const now = held.values[key]
    if (now && isAsIntended(r, words, wanted, now)) continue
    const heldAt: ValueAt = (k) => held.values[k]?.value
    list.push({
      key,
      held: now?.value ?? null,
      intended: wanted,
      ...unitsAcross(p, r, heldAt, (k) => intended[k] ?? heldAt(k)),
    })
  }
  return ok(list)
}

/** Settings whose words or meaning differ between two reads, in the profile's order: other decimals change both or either. */
export function moved(p: Profile, before: SettingsImage, after: SettingsImage): Difference[] {
  return settingRegisters(p).flatMap((r) => {
    const key = registerKey(r)
    const [was, is] = [before.values[key], after.values[key]]
    if (!was || !is || (sameBits(r, was.words, is.words) && was.value === is.value)) return []
    const units = unitsAcross(
      p,
      r,
      (k) => before.values[k]?.value,
      (k) => after.values[k]?.value,
    )
    return [{ key, held: was.value, intended: is.value ?? `words ${is.words.join(' ')}`, ...units }]
  })
}
