import type { Visit } from './schema.ts'

const longestVisitMs = 12 * 3_600_000

/** The latest visit where it began no longer ago than a working day: after a pause or a restart somebody may go on with it. `now`: ISO instant. */
export function visitGoing(visits: readonly Visit[], now: string): Visit | undefined {
  const last = visits.at(-1)
  const age = last ? Date.parse(now) - Date.parse(last.startedAt) : Number.NaN
  return age >= 0 && age <= longestVisitMs ? last : undefined
}
