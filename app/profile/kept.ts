import { type Profile, type Register, registerKey } from './schema.ts'
import { settingWords } from './setting-words.ts'

/** Does a value outlive a power cut once it is written? Not where it is never kept, or only after a save that the profile does not know. */
export const isKept = (p: Pick<Profile, 'procedures'>, r: Pick<Register, 'kept'>): boolean =>
  r.kept === 'at-once' || (r.kept === 'after-save' && p.procedures.save !== undefined)

/** Those of these registers that a write leaves unsaved, by key. */
export const unsavedOf = (p: Pick<Profile, 'procedures'>, registers: readonly Register[]): string[] =>
  registers.filter((r) => !isKept(p, r)).map(registerKey)

/** How a write was kept, in a word or two. */
export function keptWords({
  saved,
  unsaved,
  written,
}: {
  saved: boolean
  unsaved: readonly string[]
  written: readonly unknown[]
}): string {
  if (unsaved.length === 0) return saved ? 'saved' : 'kept at once'
  return unsaved.length < written.length ? 'not all of it saved' : 'not saved'
}

/** What the unsaved settings of a write mean for whoever relies on them; `channels` as the indicator has them. */
export function unsavedWords(unsaved: readonly string[], channels: number, when: 'before' | 'after'): string {
  const names = unsaved.map((key) => settingWords(key, channels)).join(', ')
  const [value, it] = unsaved.length === 1 ? ['value', 'it'] : ['values', 'them']
  return `${when === 'before' ? 'Will not be saved' : 'Not saved'} in the indicator: ${names}. A power cut brings the old ${value} back; save ${it} at its front panel, or write ${it} again then.`
}
