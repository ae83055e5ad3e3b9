import type { IntendedChange, Point } from '../../app/job/schema.ts'
import { isScaling } from '../../app/profile/scaling-registers.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { findRegister } from '../../app/profile/settings.ts'
import type { proposeScaling } from '../../app/scaling/propose-scaling.ts'
import { explainScalingFailure } from '../../app/scaling/scaling-failure.ts'

/**
 * Why these points cannot leave what is `null` in a change as it is held: it is not intended, or is half of a scaling. Two values intended
 * and two left as held would be a line that nobody decided on.
 */
export function whyNotTakenBack(points: readonly Point[], change: IntendedChange): string | null {
  const back = Object.keys(change).filter((key) => change[key] === null)
  const strange = back.find((key) => points.every((p) => p.intended[key] === undefined))
  if (strange !== undefined) return `${settingWords(strange)} is not intended; there is nothing to take back.`
  if (!back.some(isScaling)) return null
  const half = points.find((p) => Object.keys({ ...p.intended, ...change }).some((key) => isScaling(key) && change[key] !== null))
  return half ? `The scaling values of ${half.tag} belong together: take back all of them, or none.` : null
}

/** A setting of the whole indicator has one value: what another of its points intends is not overruled silently. */
export function sharedDisagreement(point: Point, change: IntendedChange, points: readonly Point[]): string | null {
  for (const other of points) {
    if (other.id === point.id || other.indicatorId !== point.indicatorId) continue
    const key = Object.keys(change).find((k) => !k.includes('@') && other.intended[k] !== undefined && other.intended[k] !== change[k])
    if (key === undefined) continue
    return change[key] === null
      ? `${settingWords(key)} belongs to the whole indicator, and ${other.tag} intends it too: take it back for the indicator.`
      : `${settingWords(key)} belongs to the whole indicator: ${other.tag} intends ${other.intended[key]}, ${point.tag} would intend ${change[key]}. Settle on one that suits both, and intend it for the indicator.`
  }
  return null
}

/** Why this key is no setting of the whole indicator; null where it is one. */
export function ofOnePoint(profile: Profile, key: string): string | null {
  const register = findRegister(profile, key)
  return register && (register.channel !== undefined || isScaling(key))
    ? `${settingWords(key, profile.channels)} belongs to one measuring point; intend it there.`
    : null
}

/** Scaling values come from the point's own data: the host computes them again and refuses what differs. */
export function disagreement(point: Point, values: Record<string, string>, proposal: ReturnType<typeof proposeScaling>): string | null {
  const scaling = Object.entries(values).filter(([key]) => isScaling(key))
  if (scaling.length === 0) return null
  if (!proposal.ok)
    return `The scaling of ${point.tag} cannot be computed, so these values are not taken over. ${explainScalingFailure(proposal.failure)}`
  const offers = [proposal.value.intended, ...proposal.value.alternatives.map((a) => a.values)]
  const agreed = offers.some((offer) => scaling.every(([key, value]) => offer[key] === value))
  return agreed ? null : `Computed again from the point, the scaling values of ${point.tag} come out differently; reload and look again.`
}
