import type { IndicatorView } from '../../app/contract/views.ts'
import type { Job, Point } from '../../app/job/schema.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import type { DecimalSign } from '../../app/quantity/format.ts'
import { intendedApart, intendedOffer, offersOf } from '../../app/scaling/intended-offer.ts'
import { measuredAt, proposeScaling } from '../../app/scaling/propose-scaling.ts'
import { settingText } from '../parts/setting-text.ts'
import { profileOf } from '../state/profiles.ts'

const known = new WeakMap<Point, { profile: Profile; keys: readonly string[] }>()

/** Keys that are intended for a point and that none of the offers of its Scaling place agrees with. Computed once for each state of the point. */
function apart(point: Point, profile: Profile): readonly string[] {
  const before = known.get(point)
  if (before?.profile === profile) return before.keys
  const proposal = proposeScaling(point, profile, measuredAt(point))
  const offers = proposal.ok ? offersOf(proposal.value) : []
  const [best] = offers
  const keys = !best || intendedOffer(point.intended, offers) ? [] : intendedApart(point.intended, best)
  known.set(point, { profile, keys })
  return keys
}

/** Points for which a write of what is intended would write something else than their Scaling place offers by now. */
export const pointsWrittenApart = (job: Job, states: readonly { id: string; state: IndicatorView | undefined }[]): Point[] =>
  states.flatMap(({ id, state }) =>
    job.points.filter((p) => {
      const profile = p.indicatorId === id ? profileOf(job, job.indicators.find((i) => i.id === id)?.profileId ?? '') : undefined
      return profile !== undefined && apart(p, profile).some((key) => state?.differs.some((d) => d.key === key))
    }),
  )

/** What is intended otherwise than these values that are shown, and whether a write would write it; nothing where they are intended or nothing is. */
export function intendedApartWords(
  { intended }: Point,
  shown: Record<string, string>,
  state: IndicatorView | undefined,
  sign: DecimalSign,
): string | undefined {
  const keys = intendedApart(intended, { values: shown })
  if (keys.length === 0) return undefined
  const values = keys.map((key) => `${settingWords(key).toLowerCase()} ${settingText(intended[key] ?? '', sign)}`)
  const written = keys.some((key) => state?.differs.some((d) => d.key === key))
  return `What is intended is not what is shown: ${values.join(', ')}.${written ? ' Review and write would write that.' : ''}`
}
