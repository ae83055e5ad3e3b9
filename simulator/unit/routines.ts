import type { CommandName, Profile, Step } from '../../app/profile/schema.ts'
import type { Place } from './layout.ts'

export type Action = 'unlock' | 'lock' | 'save' | 'restart' | CommandName

/** A command or procedure of the profile, as the unit sees it: words that have to arrive in this order. */
export type Routine = {
  action: Action
  writes: readonly { name: string; words: readonly number[] }[]
  /** How long the unit works on it: well inside what the profile tells a master to wait. */
  worksMs: number
  /** Registers that a master watches, with what they hold when it is done. */
  watched: readonly { name: string; equals: number }[]
  /** Silence after a restart. */
  silentMs: number
}

const routineOf = (action: Action, steps: readonly Step[]): Routine => {
  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0)
  const watched = steps.flatMap((step) => ('until' in step ? [{ name: step.until, equals: step.equals, withinMs: step.withinMs }] : []))
  return {
    action,
    writes: steps.flatMap((step) => ('write' in step ? [{ name: step.write, words: step.words }] : [])),
    worksMs: (sum(steps.map((step) => ('waitMs' in step ? step.waitMs : 0))) + sum(watched.map((w) => w.withinMs))) / 2,
    watched,
    silentMs: sum(steps.map((step) => ('answersAgainWithinMs' in step ? step.answersAgainWithinMs : 0))) / 2,
  }
}

export type Routines = {
  has(action: Action): boolean
  /** True for a register that takes part in a routine. */
  uses(name: string): boolean
  /** True for a register whose writing unlocks. */
  locks(name: string): boolean
  /** True where these words mean something in this register. */
  means(place: Place, words: readonly number[]): boolean
  /** Notes a write; gives the routines that it completes. */
  note(place: Place, words: readonly number[]): Routine[]
  /** Forgets half-finished routines. */
  reset(): void
}

const same = (a: readonly number[], b: readonly number[]): boolean => a.length === b.length && a.every((word, i) => word === b[i])

export const routinesOf = (profile: Pick<Profile, 'procedures' | 'commands'>): Routines => {
  const named = [...Object.entries(profile.procedures), ...Object.entries(profile.commands)]
  const routines = named.flatMap(([action, procedure]) => (procedure ? [routineOf(action as Action, procedure.steps)] : []))
  const progress = new Map<Routine, number>()
  const fits = (routine: Routine, index: number, name: string, words: readonly number[]): boolean => {
    const step = routine.writes[index]
    return step !== undefined && step.name === name && same(step.words, words)
  }
  return {
    has: (action) => routines.some((routine) => routine.action === action),
    uses: (name) => routines.some((routine) => routine.writes.some((write) => write.name === name)),
    locks: (name) => routines.some((routine) => routine.action === 'unlock' && routine.writes.at(-1)?.name === name),
    means: (place, words) => routines.some((routine) => routine.writes.some((_, i) => fits(routine, i, place.register.name, words))),
    note(place, words) {
      const { name } = place.register
      const completed: Routine[] = []
      for (const routine of routines) {
        const at = progress.get(routine) ?? 0
        if (!routine.writes.some((write) => write.name === name)) continue
        const next = fits(routine, at, name, words) ? at + 1 : fits(routine, 0, name, words) ? 1 : 0
        if (next === routine.writes.length && next > 0) completed.push(routine)
        progress.set(routine, next === routine.writes.length ? 0 : next)
      }
      return completed
    },
    reset: () => progress.clear(),
  }
}
