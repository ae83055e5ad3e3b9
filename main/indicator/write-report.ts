import type { Difference, ParameterOutcome, WriteReceipt } from '../../app/contract/views.ts'
import type { HeldValue, SettingsImage } from '../../app/job/schema.ts'
import { unsavedOf } from '../../app/profile/kept.ts'
import { registerKey } from '../../app/profile/schema.ts'
import { agrees, moved, unitsAcross } from '../../app/profile/settings.ts'
import type { UnitIo } from './unit-io.ts'
import type { Trouble, Wanted } from './write-context.ts'

export function differsFrom(wanted: readonly Wanted[], image: SettingsImage): Trouble | null {
  for (const w of wanted) {
    const key = registerKey(w.register)
    const got = image.values[key]
    if (!got || !agrees(w.register, w, got))
      return { because: { kind: 'read-back-differs', key, wanted: w.value, got: textOf(got) }, during: 'reading-all' }
  }
  return null
}

export const textOf = (held: HeldValue | undefined) => held?.value ?? (held ? `words ${held.words.join(' ')}` : 'unknown')

export function outcomes(before: SettingsImage, wanted: readonly Wanted[], now: SettingsImage | null): ParameterOutcome[] {
  return wanted.map((w) => {
    const key = registerKey(w.register)
    const held = now?.values[key]
    return { key, wanted: w.value, before: before.values[key]?.value ?? null, now: held ? { value: held.value } : 'unknown' }
  })
}

export function receiptOf(io: UnitIo, before: SettingsImage, after: SettingsImage, wanted: readonly Wanted[]): WriteReceipt {
  return {
    written: shown(io, before, wanted),
    alsoMoved: alsoMoved(io, before, after, wanted),
    saved: io.profile.procedures.save !== undefined,
    unsaved: unsavedOf(
      io.profile,
      wanted.map((w) => w.register),
    ),
  }
}

function shown(io: UnitIo, before: SettingsImage, wanted: readonly Wanted[]): Difference[] {
  const heldAt = (key: string) => before.values[key]?.value
  const written = new Map(wanted.map((w) => [registerKey(w.register), w.value]))
  return wanted.map((w) => {
    const key = registerKey(w.register)
    const units = unitsAcross(io.profile, w.register, heldAt, (k) => written.get(k) ?? heldAt(k))
    return { key, held: heldAt(key) ?? null, intended: w.value, ...units }
  })
}

function alsoMoved(io: UnitIo, before: SettingsImage, after: SettingsImage, wanted: readonly Wanted[]): Difference[] {
  const asked = new Set(wanted.map((w) => registerKey(w.register)))
  return moved(io.profile, before, after).filter((d) => !asked.has(d.key))
}
