import { type SharedState, sharedState } from './shared-state.ts'

/**
 * State of the page that a reload comes back to, kept for this tab alone. What is found there is checked by `read`;
 * anything else, and a browser that keeps nothing, begins with `initial`.
 */
export function keptState<T>(name: string, initial: T, read: (found: unknown) => T | undefined): SharedState<T> {
  const key = `kept-${name}`
  const state = sharedState(found(key, read) ?? initial)
  return {
    ...state,
    set(next) {
      state.set(next)
      try {
        sessionStorage.setItem(key, JSON.stringify(state.get()))
      } catch {
        // Full or forbidden storage: it only lasts until the reload then.
      }
    },
  }
}

function found<T>(key: string, read: (found: unknown) => T | undefined): T | undefined {
  try {
    const text = sessionStorage.getItem(key)
    return text === null ? undefined : read(JSON.parse(text))
  } catch {
    return undefined
  }
}

/** Reads one of a few words. */
export const oneOf =
  <T>(...words: readonly T[]) =>
  (found: unknown): T | undefined =>
    words.find((word) => word === found)

/** Reads something that has the parts this version of the page keeps. */
export const withKeys =
  <T extends object>(...keys: readonly (keyof T)[]) =>
  (found: unknown): T | undefined =>
    typeof found === 'object' && found !== null && keys.every((key) => key in found) ? (found as T) : undefined
