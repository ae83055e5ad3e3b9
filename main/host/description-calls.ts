import type { Handlers } from '../../app/contract/contract.ts'
import type { Description } from '../../app/contract/describe-calls.ts'
import { checkDraft, type Draft, dropFound, finishDraft, nameFound, putRegister, startDraft } from '../../app/profile/draft.ts'
import { registersFromRows, type TableProblem } from '../../app/profile/from-csv.ts'
import type { ProfileFailure } from '../../app/profile/read-profile.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { readCsv } from '../files/csv.ts'
import { keepDescription, readDescriptions, removeDescription } from '../files/description-files.ts'
import type { LiveLoop } from './live-loop.ts'
import { keepProfile } from './profile-calls.ts'
import { refuse } from './refusals.ts'
import type { World } from './world.ts'

type DescriptionCalls = Pick<Handlers, Extract<keyof Handlers, `description.${string}`>>
type Which = { descriptionId: string; revision: number }

/** Profiles under construction: every change is on disk before it is answered. */
export function descriptionCalls(w: World, live: LiveLoop): DescriptionCalls {
  const held = new Map<string, Description>()
  const { read, unreadable } = readDescriptions(w.store.path)
  for (const d of read) held.set(d.id, d)
  const publish = () => {
    const drafts = [...held.values()].map((d) => ({ ...d, problems: checkDraft(d.draft) }))
    w.topics.set('descriptions', undefined, { drafts, unreadable })
  }
  publish()

  function keep(next: Description) {
    const kept = keepDescription(w.store.path, next)
    if (!kept.ok) return refuse(`Not kept: ${kept.failure}`)
    held.set(next.id, next)
    publish()
    return ok({ revision: next.revision })
  }

  function of({ descriptionId, revision }: Which) {
    const d = held.get(descriptionId)
    if (!d) return refuse('There is no such description; it may have been removed meanwhile.', 'descriptionId')
    if (revision !== d.revision) return fail({ kind: 'stale' as const, revision: d.revision, newer: d })
    return ok(d)
  }

  const risen = (d: Description, change: Partial<Description>): Description => ({
    ...d,
    ...change,
    revision: d.revision + 1,
    changedAt: w.clock.stamp(),
  })

  /** A change of the draft that may not fit. */
  function change(which: Which, make: (draft: Draft) => Result<Draft, ProfileFailure>) {
    const d = of(which)
    if (!d.ok) return d
    const made = make(d.value.draft)
    return made.ok ? keep(risen(d.value, { draft: made.value })) : fail({ kind: 'unfit' as const, problems: made.failure.problems })
  }

  return {
    async 'description.start'({ name, copyOf, unit }) {
      const source = copyOf === undefined ? undefined : w.profiles.get(copyOf)
      if (copyOf !== undefined && !source) return refuse(`There is no profile ${copyOf} to start from.`, 'copyOf')
      const profileId = freeId(name, (id) => w.profiles.has(id) || [...held.values()].some((d) => d.draft.id === id))
      const draft = source
        ? { ...source, id: profileId, name }
        : startDraft({ id: profileId, name, document: 'looked at on the bus', revision: '-', channels: 1 })
      const now = w.clock.stamp()
      const id = w.newId('describe')
      const kept = keep({ schema: 1, id, revision: 0, startedAt: now, changedAt: now, draft, ...(unit ? { unit } : {}) })
      return kept.ok ? ok({ descriptionId: id, revision: 0 }) : kept
    },

    async 'description.edit'({ change: parts, unit, ...which }) {
      const d = of(which)
      if (!d.ok) return d
      const said = Object.fromEntries(Object.entries(parts).filter(([, v]) => v !== undefined))
      return keep(risen(d.value, { draft: { ...d.value.draft, ...said }, ...(unit ? { unit } : {}) }))
    },

    async 'description.name-found'({ found: place, ...which }) {
      return change(which, (draft) => nameFound(draft, place))
    },

    async 'description.put-register'({ register: said, replaces, ...which }) {
      return change(which, (draft) => putRegister(draft, said, replaces))
    },

    async 'description.drop-register'({ key, ...which }) {
      return change(which, (draft) => ok(dropFound(draft, key)))
    },

    async 'description.import-table'({ sheet, ...which }) {
      const d = of(which)
      if (!d.ok) return d
      const made = fromTable(d.value.draft, sheet)
      if (!made.ok) return ok({ revision: d.value.revision, added: 0, errors: made.failure })
      const kept = keep(risen(d.value, { draft: made.value }))
      return kept.ok ? ok({ ...kept.value, added: made.value.registers.length - d.value.draft.registers.length, errors: [] }) : kept
    },

    async 'description.save'(which) {
      const d = of(which)
      if (!d.ok) return d
      const { draft, savedRevision } = d.value
      const finished = finishDraft(draft)
      if (!finished.ok) return fail({ kind: 'unfit' as const, problems: finished.failure.problems })
      if (savedRevision === undefined && w.store.job.profiles.some((p) => p.id === draft.id))
        return refuse(`The job has a profile ${draft.id} already; give this one another id.`, 'id')
      const path = keepProfile(w, live, finished.value)
      if (!path.ok) return path
      const revision = d.value.revision + 1
      const kept = keep(risen(d.value, { savedRevision: revision }))
      return kept.ok ? ok({ revision, profileId: draft.id, path: path.value }) : kept
    },

    async 'description.remove'(which) {
      const d = of(which)
      if (!d.ok) return d
      const removed = removeDescription(w.store.path, d.value.id)
      if (!removed.ok) return refuse(`Not removed: ${removed.failure}`)
      held.delete(d.value.id)
      publish()
      return ok({})
    },
  }
}

/** "Bagging scale 7" is bagging-scale-7; a number follows where that is taken. */
function freeId(name: string, taken: (id: string) => boolean): string {
  const stem =
    name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '') || 'indicator'
  for (let n = 1; ; n++) {
    const id = n === 1 ? stem : `${stem}-${n}`
    if (!taken(id)) return id
  }
}

/** The draft with all registers of a table, or what is wrong with it by row. */
function fromTable(draft: Draft, sheet: string): Result<Draft, TableProblem[]> {
  const rows = readCsv(sheet)
  if (!rows.ok) return fail([{ row: rows.failure.row ?? 1, column: '', message: rows.failure.why }])
  const registers = registersFromRows(rows.value, draft.registers)
  return registers.ok ? ok({ ...draft, registers: [...draft.registers, ...registers.value] }) : registers
}
