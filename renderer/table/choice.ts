import { useMemo } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { keptState } from '../state/kept-state.ts'

/** Chosen points in the order of choosing, the one that a range starts from, and what was chosen before the range. */
export type Choice = { ids: readonly string[]; from: string | null; before: readonly string[] }

const none: Choice = { ids: [], from: null, before: [] }
export const onlyThese = (ids: readonly string[]): Choice => ({ ids, from: ids.at(-1) ?? null, before: ids })

/** What was kept of a choice: its points alone, from the last of which a range goes on. */
export function readChoice(found: unknown): Choice | undefined {
  const ids = typeof found === 'object' && found !== null && 'ids' in found ? found.ids : undefined
  return Array.isArray(ids) && ids.every((id) => typeof id === 'string') ? onlyThese(ids) : undefined
}
export const choice = keptState<Choice>('choice', none, readChoice)

/** One point chosen or not. */
export function toggled(now: Choice, id: string): Choice {
  const ids = now.ids.includes(id) ? now.ids.filter((x) => x !== id) : [...now.ids, id]
  return { ids, from: id, before: ids }
}

/**
 * All from the last one up to this one, in the order that is shown, besides what was chosen before; without a last one, this one alone.
 * Drawn again from the same one, the new range takes the place of the old: it shrinks as it grows.
 */
export function rangeTo(now: Choice, id: string, shown: readonly string[]): Choice {
  const [a, b] = [shown.indexOf(now.from ?? id), shown.indexOf(id)]
  if (a < 0 || b < 0) return toggled(now, id)
  const range = shown.slice(Math.min(a, b), Math.max(a, b) + 1)
  return { ids: [...new Set([...now.before, ...range])], from: now.from ?? id, before: now.before }
}

export const chooseNone = () => choice.set(none)

/** Chosen points that are still in the job. */
export function useChosen(job: Job | undefined): readonly string[] {
  const { ids } = choice.use()
  return useMemo(() => ids.filter((id) => job?.points.some((p) => p.id === id)), [ids, job?.points])
}

const words = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve']
export const inWords = (count: number) => words[count] ?? String(count)

export type Scope = { ids: readonly string[]; kind: 'chosen' | 'shown' | 'all' }

/** "WT-101", "these 3", "all 8": how far an action goes. */
export function scopeWords({ ids, kind }: Scope, job: Pick<Job, 'points'>): string {
  if (ids.length === 0) return 'no point'
  const only = ids.length === 1 ? job.points.find((p) => p.id === ids[0])?.tag : undefined
  return only ?? `${kind === 'all' ? 'all' : 'these'} ${ids.length}`
}

/** The same for a button beside those words, where there is little room: "it", "3", "all 8". */
export function scopeShort({ ids, kind }: Scope): string {
  if (ids.length < 2) return 'it'
  return kind === 'all' ? `all ${ids.length}` : String(ids.length)
}

/** What is chosen; else what is shown, which may be all. */
export function scopeOf(chosen: readonly string[], shown: readonly string[], all: number): Scope {
  if (chosen.length > 0) return { ids: chosen, kind: 'chosen' }
  return { ids: shown, kind: shown.length === all ? 'all' : 'shown' }
}
