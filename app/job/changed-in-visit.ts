import type { SettingsImage, Visit } from './schema.ts'

/** Whether an indicator holds other settings than those found at the start of this visit, by its last reading in it; raw words count. */
export function changedInVisit(visit: Visit | undefined, indicatorId: string | undefined): boolean {
  const [found, left] = indicatorId === undefined ? [] : [visit?.found[indicatorId], visit?.left[indicatorId]]
  if (!found || !left) return false
  const words = (image: SettingsImage, key: string) => image.values[key]?.words.join()
  return [...new Set([...Object.keys(found.values), ...Object.keys(left.values)])].some((key) => words(found, key) !== words(left, key))
}
