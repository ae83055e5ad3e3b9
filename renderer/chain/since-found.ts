import { isFor } from '../../app/job/intended.ts'
import { moved } from '../../app/profile/settings.ts'
import type { PointView } from '../state/point-view.ts'

/** Settings of a point that its indicator holds otherwise than it was found in this visit; null where one of the two is not known. */
export function movedSinceFound({
  point,
  indicator,
  profile,
  state,
  visit,
}: Pick<PointView, 'point' | 'indicator' | 'profile' | 'state' | 'visit'>): number | null {
  const found = indicator && visit?.found[indicator.id]
  if (!profile || !found || !state?.held) return null
  return moved(profile, found, state.held).filter((d) => isFor(d.key, point.channel)).length
}

/** The same in words, where nothing is intended. */
export const sinceFoundWords = (count: number | null): string =>
  count === null ? 'as held' : count === 0 ? 'as found' : `${count} not as found`
