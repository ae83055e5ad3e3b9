import type { Intended } from '../job/schema.ts'
import { isScaling } from '../profile/scaling-registers.ts'
import type { ScalingProposal } from './propose-scaling.ts'
import type { TwoPairs } from './scaling-values.ts'

/** Everything on offer, best first: each choice of pairs with all values that go with it, or with none where no bus takes them. */
export const offersOf = ({ pairs, intended, alternatives }: ScalingProposal): TwoPairs[] =>
  [pairs, ...alternatives].map((p) => ({ ...p, values: Object.keys(p.values).length > 0 ? { ...intended, ...p.values } : {} }))

/** Keys that are intended otherwise than this is offered; settings that no scaling is made of do not count. */
export const intendedApart = (intended: Intended, { values }: Pick<TwoPairs, 'values'>): string[] =>
  Object.keys(intended).filter((key) => (isScaling(key) || key in values) && values[key] !== intended[key])

/** The offer that is intended; none where certificates and measurements no longer lead to what is. */
export const intendedOffer = (intended: Intended, offers: readonly TwoPairs[]): TwoPairs | undefined =>
  offers.find((offer) => intendedApart(intended, offer).length === 0)
