import type { Indicator } from '../../app/job/schema.ts'
import { sameSeals, sealNumbersWrong } from '../../app/job/seal-numbers.ts'
import { refuse } from './refusals.ts'

/** What a request makes of a seal: new numbers, or the present seal broken; `null` is no seal, absent leaves it as it is. */
export type SealChange = { seals: string; broken?: { by: string; reason: string } | undefined } | null | undefined

const noted = (name: string, { seals }: { seals: string }) => `${name} is sealed (${seals})`

/** Why a seal cannot become this; null where it can. The one way past a seal is to break it, by name and with the numbers that are on it. */
export function sealRefused({ name, sealed }: Pick<Indicator, 'name' | 'sealed'>, change: SealChange) {
  if (change === undefined) return null
  const wrong = change && sealNumbersWrong(change.seals)
  if (wrong) return refuse(wrong, 'sealed.seals')
  if (!sealed) return null
  const same = change !== null && sameSeals(change.seals, sealed.seals)
  const { broken } = sealed
  if (!broken) {
    if (same) return null
    return change?.broken
      ? refuse(
          `The seals noted are ${sealed.seals}, given are ${change.seals}. Read them off the indicator: is it the right one?`,
          'sealed.seals',
        )
      : refuse(`${noted(name, sealed)}. Break the seal with name and reason; then new seal numbers can be given.`, 'sealed.seals')
  }
  const before = `The seal of ${name} was broken by ${broken.by} at ${broken.at} already`
  if (change?.broken) return refuse(`${before}.`, 'sealed.broken')
  if (change === null) return refuse(`${before}; that stays noted. Once it is sealed again, give the new seal numbers.`, 'sealed.seals')
  return same ? refuse(`${before}. A new seal has another number than ${sealed.seals}.`, 'sealed.seals') : null
}

/** Why a sealed indicator is not taken out of the job: put in again, it would be without its seal. */
export const sealHolds = ({ name, sealed }: Indicator) =>
  sealed && !sealed.broken
    ? refuse(`${noted(name, sealed)}. Break the seal with name and reason before it is removed.`, 'sealed.seals')
    : null

/** The seal that a request leaves. When it was broken is the host's to say; what was broken before stays noted. */
export function sealAfter(held: Indicator['sealed'], change: SealChange, now: string): Pick<Indicator, 'sealed'> {
  if (!change) return {}
  const earlier = [...(held?.earlier ?? []), ...(held?.broken ? [{ seals: held.seals, broken: held.broken }] : [])]
  return {
    sealed: {
      seals: change.seals.trim(),
      ...(change.broken ? { broken: { ...change.broken, at: now } } : {}),
      ...(earlier.length > 0 ? { earlier } : {}),
    },
  }
}
