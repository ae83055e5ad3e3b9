import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Difference, WritePreview } from '../../app/contract/views.ts'
import { pointsOf } from '../../app/job/intended.ts'
import type { Intended, SettingsImage } from '../../app/job/schema.ts'
import type { CodecFailure } from '../../app/profile/codec.ts'
import { unsavedOf, unsavedWords } from '../../app/profile/kept.ts'
import { plannedWrites, type Wanted, wantedFrom } from '../../app/profile/planned-writes.ts'
import { registerKey } from '../../app/profile/schema.ts'
import { encodeIntended, findRegister, moved } from '../../app/profile/settings.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { scalingOffAfterwards } from '../../app/scaling/scaling-afterwards.ts'
import { excitationsBeyond } from '../../app/scaling/sensor-limits.ts'
import { tooSmallAfterwards } from '../../app/scaling/too-small.ts'
import { beingWritten } from './may-write.ts'
import type { Refusal } from './session-move.ts'
import type { SessionState } from './session-state.ts'
import { cautions, lastChance } from './write-cautions.ts'

/** `of`: what was intended for the indicator, where it is that which would be written. */
export type Preview = { shown: WritePreview; before: SettingsImage; wanted: Wanted[]; of?: Intended | undefined }

type Previewed = Result<WritePreview, BusFailure | Refusal>

/** What a write would do, shown before it is done. Only the last one shown is good. */
export function sessionPreviews({ options, move, view, read }: SessionState) {
  const { profile, indicator } = options
  let last: Preview | null = null

  function addressWanted(unit: number, held: SettingsImage): Result<Wanted[], Refusal> {
    const register = findRegister(profile, 'bus.address')
    if (register?.access !== 'read-write')
      return fail({ kind: 'refused-request', why: `${profile.name} takes no address over the bus; set it at its front panel or switches.` })
    const words = encodeIntended(profile, { 'bus.address': String(unit) }, held)
    return words.ok ? ok([{ register, words: words.value.get('bus.address') ?? [], value: String(unit) }]) : fail(refused(words.failure))
  }

  function keep(before: SettingsImage, writes: Difference[], wanted: Wanted[], of?: Intended): Previewed {
    const no = move.barred(wanted)
    if (no) return fail(no)
    const { unlock, save, restart } = profile.procedures
    const names = new Set(wanted.map((w) => w.register.name))
    const beyond = excitationsBeyond(options.points(), profile, Object.fromEntries(wanted.map((w) => [registerKey(w.register), w.value])))
    const off = scalingOffAfterwards(options.points(), profile, before, wanted)
    const small = tooSmallAfterwards(options.points(), profile, before, wanted, options.sample)
    const unsaved = unsavedOf(
      profile,
      wanted.map((w) => w.register),
    )
    const lost = unsaved.length > 0 ? [unsavedWords(unsaved, profile.channels, 'before')] : []
    const theirs = pointsOf(
      options.points(),
      writes.map((d) => d.key),
    )
    const shown: WritePreview = {
      previewId: options.newId('preview'),
      indicatorId: indicator.id,
      writes,
      touches: options.points().map((p) => ({ pointId: p.id, tag: p.tag, written: theirs.includes(p) })),
      procedure: {
        unlocks: unlock !== undefined,
        saves: save !== undefined,
        restarts: restart !== undefined && wanted.some((w) => w.register.takesEffect === 'after-restart'),
      },
      moves: profile.dependencies
        .filter((d) => names.has(d.when))
        .map((d) => ({ when: d.when, moves: d.moves, ...(d.why ? { why: d.why } : {}) })),
      unsaved,
      cautions: [
        ...move.cautions(wanted),
        ...lost,
        ...beyond,
        ...small,
        ...off,
        ...cautions(names),
        ...lastChance(names, options.visit(), theirs),
      ],
    }
    last = { shown, before, wanted, of }
    return ok(shown)
  }

  return {
    addressWanted,

    /** The preview of this id, where it is the last one that was shown. */
    find: (previewId: string): Preview | null => (last?.shown.previewId === previewId ? last : null),
    forget(): void {
      last = null
    },

    async preview(): Promise<Previewed> {
      if (view().writing) return fail(beingWritten)
      const image = await read()
      if (!image.ok) return image
      const intended = options.intended()
      const plan = plannedWrites(profile, image.value, intended)
      return plan.ok ? keep(image.value, plan.value.differs, plan.value.wanted, intended) : fail(refused(plan.failure))
    },

    async previewRestore(to: SettingsImage): Promise<Previewed> {
      if (view().writing) return fail(beingWritten)
      const image = await read()
      if (!image.ok) return image
      const list = moved(profile, image.value, to)
      const words = new Map(list.map((d) => [d.key, to.values[d.key]?.words ?? []]))
      return keep(image.value, list, wantedFrom(profile, list, words))
    },

    /** Lists what giving the indicator this address would do; nothing else that is intended comes into it. */
    async previewAddress(unit: number): Promise<Previewed> {
      const image = await read()
      if (!image.ok) return image
      const wanted = addressWanted(unit, image.value)
      if (!wanted.ok) return wanted
      const held = image.value.values['bus.address']?.value ?? null
      const writes = held === String(unit) ? [] : [{ key: 'bus.address', held, intended: String(unit) }]
      return keep(image.value, writes, wanted.value)
    },
  }
}

const refused = (failure: CodecFailure & { key: string }) => ({ kind: 'refused-request' as const, why: failure.why, where: failure.key })
