import type { IndicatorView, WriteFailure, WriteReceipt } from '../../app/contract/views.ts'
import { sameValue } from '../../app/job/same-value.ts'
import type { SettingsImage } from '../../app/job/schema.ts'
import { registerKey } from '../../app/profile/schema.ts'
import { moved } from '../../app/profile/settings.ts'
import { fail, type Result } from '../../app/result.ts'
import { safeWrite } from '../indicator/safe-write.ts'
import type { Who } from '../indicator/who-answers.ts'
import type { Wanted } from '../indicator/write-context.ts'
import { writeForbidden } from './may-write.ts'
import type { sessionPreviews } from './session-previews.ts'
import type { SessionState } from './session-state.ts'

type Writing = NonNullable<IndicatorView['writing']>
type Written = Result<WriteReceipt, WriteFailure>

/** Writes wanted settings into the indicator of a session: made ready, journalled, done, told and logged. */
export function sessionWrite(state: SessionState) {
  const { options, reach, move, show } = state
  const { profile, clock, indicator, journal } = options

  const writingContext = () => ({
    io: reach.io(),
    clock,
    stamp: clock.stamp,
    onStep: (step: Writing['step'], done: number, of: number, says?: string) =>
      show({ writing: { step, done, of, ...(says === undefined ? {} : { says }) } }),
  })

  const endedWith = (failure: WriteFailure): Written => {
    show({ writing: null, lastWrite: { ok: false, failure } })
    return fail(failure)
  }

  /** `resolving`: an older journal stays open until this succeeds, and only that one knows the way back. */
  async function write(before: SettingsImage, wanted: Wanted[], resolving = false): Promise<Written> {
    const by = options.by()
    show({ writing: { step: 'reading-again', done: 0, of: wanted.length } })
    const prepared = await move.prepare(wanted)
    if (!prepared.ok) return endedWith(prepared.failure)
    const moving = prepared.value
    const { unit } = reach.place()
    const begun = journal.begin({
      kind: 'begin',
      at: clock.stamp(),
      by,
      indicatorId: indicator.id,
      unit,
      profileId: profile.id,
      before,
      ...(moving ? { place: moving.place, who: copied(moving.who) } : {}),
      wanted: wanted.map((w) => ({ key: registerKey(w.register), value: w.value, words: [...w.words] })),
    })
    if (!begun.ok)
      return endedWith({ kind: 'not-allowed', why: `The journal of the write cannot be kept, so nothing was written. ${begun.failure}` })
    const log = begun.value
    show({ writing: { step: 'journalled', done: 0, of: wanted.length }, lastWrite: null })
    const end = await safeWrite(writingContext(), before, wanted, log, moving ?? undefined)
    const result = moving ? await move.settle(moving, end, log) : end.result
    if (resolving && !result.ok) log.note({ kind: 'end', at: clock.stamp(), outcome: 'left' })
    log.close()
    show({
      writing: null,
      lastWrite: result.ok ? { ok: true, receipt: result.value } : { ok: false, failure: result.failure },
      openWrite: state.pendingWrite()?.shown ?? null,
      ...(end.image ? state.withHeld(end.image) : {}),
    })
    // Where the disk does not take this line the write is told from its journal.
    options.log({ at: clock.stamp(), by, indicatorId: indicator.id, unit, journalId: log.journalId, result })
    return result
  }

  return {
    write,

    /** Writes a preview shown before. Reads everything again first; if it differs from what was shown, stops and shows. */
    async writePreview(previews: ReturnType<typeof sessionPreviews>, previewId: string): Promise<Written> {
      const preview = previews.find(previewId)
      if (!preview) return fail({ kind: 'not-allowed', why: 'This preview is no longer current. Review again.' })
      const why = writeForbidden(state)
      if (why) return fail({ kind: 'not-allowed', why })
      if (preview.wanted.length === 0) return fail({ kind: 'not-allowed', why: 'Nothing differs: the indicator holds what is intended.' })
      previews.forget()
      if (preview.of && !sameValue(preview.of, options.intended()))
        return fail({ kind: 'not-allowed', why: 'What is intended is no longer what was shown. Nothing was written; review again.' })
      show({ writing: { step: 'reading-again', done: 0, of: preview.wanted.length } })
      const again = await state.read()
      if (!again.ok)
        return endedWith({ kind: 'failed', because: again.failure, during: 'reading-again', end: 'nothing-written', parameters: [] })
      const changed = moved(profile, preview.before, again.value)
      if (changed.length > 0) return endedWith({ kind: 'changed-meanwhile', changed })
      return write(again.value, preview.wanted)
    },
  }
}

const copied = (who: Who) => Object.fromEntries(Object.entries(who).map(([key, words]) => [key, [...words]]))
