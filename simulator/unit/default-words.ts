import type { Profile } from '../../app/profile/schema.ts'
import type { Layout, Place } from './layout.ts'
import { putRaw, putValue, type Words } from './memory.ts'

const firstAccepted = ({ options, limits }: Place['register']): { raw: number } | { value: number } => {
  if (options) return { raw: options[0]?.raw ?? 0 }
  const from = Number(limits?.from ?? 0)
  const to = Number(limits?.to ?? 0)
  return { value: limits && (from > 0 || to < 0) ? from : 0 }
}

/**
 * What a unit holds as long as nobody gave it anything else: the identity its profile tests for, the first option,
 * 0 or the lower limit where 0 is not accepted.
 */
export const defaultWords = (layout: Layout, profile: Profile): Words => {
  const words: Words = new Map()
  for (const place of layout.places) {
    const test = profile.identity.tests.find(({ register }) => register === place.register.name)
    const identity = test?.equals ?? test?.oneOf?.[0]
    const first = firstAccepted(place.register)
    if (identity !== undefined) putRaw(words, place, identity)
    else if ('raw' in first) putRaw(words, place, first.raw)
    else putValue(words, layout, place, first.value)
  }
  return words
}
