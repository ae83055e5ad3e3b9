import type { SettingLine } from './setting-row.tsx'

type Known = Pick<SettingLine, 'found' | 'held' | 'intended' | 'units' | 'differs' | 'kept'>

/** What a write would do about a setting, or that the last one left it unsaved; nothing where neither is so. */
export function writeWould(
  { found, held, intended, units, differs, kept }: Known,
  show: (text: string) => string,
): { text: string; attention: boolean } | undefined {
  const isOther = units.held !== units.intended
  const own = (text: string, unit: string | undefined) => (isOther ? `${text} ${unit ?? ''}`.trimEnd() : text)
  if (differs)
    return {
      text: `${held == null ? 'not read' : own(show(held), units.held)} becomes ${own(show(intended ?? ''), units.intended)}${kept ? '' : ', which is not saved'}`,
      attention: true,
    }
  if (held === undefined) return undefined
  const changed = found === undefined ? intended !== undefined : held !== found
  if (!kept && changed) return { text: 'held, but a write does not save it: a power cut may bring the old value back', attention: true }
  return intended === undefined ? undefined : { text: 'nothing, it is held', attention: false }
}
