import { sameValue } from './same-value.ts'
import type { Indicator, Job } from './schema.ts'
import { sameSeals } from './seal-numbers.ts'

const ofJob = ['name', 'site', 'decimalSign'] as const
const lists = ['buses', 'indicators', 'points'] as const
type List = (typeof lists)[number]
type Item = Readonly<Record<string, unknown>> & { readonly id: string }

/** One thing that an edit changed, both ways; `undefined` is absent. */
export type Change =
  | { of: 'job'; field: (typeof ofJob)[number]; before: unknown; after: unknown }
  | { of: List; id: string; field: string; before: unknown; after: unknown }
  | { of: List; id: string; at: number; before: Item | undefined; after: Item | undefined }

/** An edit of what people decide. Visits, checks and profiles of the job are no part of it. */
export type EditStep = { readonly changes: readonly Change[] }

/** What an edit changed between two states of a job; null where it changed nothing. */
export function editStep(before: Job, after: Job): EditStep | null {
  const changes: Change[] = []
  for (const field of ofJob)
    if (before[field] !== after[field]) changes.push({ of: 'job', field, before: before[field], after: after[field] })
  for (const of of lists) changes.push(...changesIn(of, itemsOf(before, of), itemsOf(after, of)))
  return changes.length === 0 ? null : { changes }
}

const itemsOf = (job: Job, of: List) => job[of] as readonly unknown[] as readonly Item[]

function changesIn(of: List, before: readonly Item[], after: readonly Item[]): Change[] {
  const changes: Change[] = []
  for (const [at, item] of before.entries()) {
    const next = after.find((i) => i.id === item.id)
    if (next) changes.push(...fieldsOf(of, item, next))
    else changes.push({ of, id: item.id, at, before: item, after: undefined })
  }
  for (const [at, item] of after.entries())
    if (!before.some((i) => i.id === item.id)) changes.push({ of, id: item.id, at, before: undefined, after: item })
  return changes
}

function fieldsOf(of: List, before: Item, after: Item): Change[] {
  const fields = [...new Set([...Object.keys(before), ...Object.keys(after)])]
  return fields.flatMap((field) =>
    sameValue(before[field], after[field]) ? [] : [{ of, id: before.id, field, before: before[field], after: after[field] }],
  )
}

/** The step the other way round. */
export const reversed = ({ changes }: EditStep): EditStep => ({
  changes: changes.map((c) => ({ ...c, before: c.after, after: c.before }) as Change).toReversed(),
})

/**
 * The job with a step made on it. A field that is no longer as the step left it was changed otherwise since (an address that was written, say)
 * and stays as it is; so does a broken seal, until it is sealed again.
 */
export function withStep(job: Job, step: EditStep): Job {
  return step.changes.reduce(withChange, job)
}

function withChange(job: Job, change: Change): Job {
  if (change.of === 'job') return job[change.field] === change.before ? { ...job, [change.field]: change.after } : job
  const items = itemsOf(job, change.of)
  if ('field' in change) return { ...job, [change.of]: items.map((item) => (item.id === change.id ? withField(item, change) : item)) }
  if (!change.after) return { ...job, [change.of]: items.filter((item) => item.id !== change.id) }
  return items.some((item) => item.id === change.id) ? job : { ...job, [change.of]: items.toSpliced(change.at, 0, change.after) }
}

function withField(item: Item, change: { field: string; before: unknown; after: unknown }): Item {
  if (!sameValue(item[change.field], change.before) || mends(item[change.field], change.after)) return item
  if (change.after !== undefined) return { ...item, [change.field]: change.after }
  const { [change.field]: _gone, ...rest } = item
  return rest as Item
}

const isSeal = (value: unknown): value is NonNullable<Indicator['sealed']> =>
  typeof value === 'object' && value !== null && 'seals' in value
/** The seal that was broken would be whole again, or would never have been. */
const mends = (held: unknown, after: unknown) =>
  isSeal(held) && held.broken !== undefined && !(isSeal(after) && !sameSeals(after.seals, held.seals))
