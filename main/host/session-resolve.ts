import type { WriteFailure, WriteReceipt } from '../../app/contract/views.ts'
import type { SettingsImage } from '../../app/job/schema.ts'
import { findRegister } from '../../app/profile/settings.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { Wanted } from '../indicator/write-context.ts'
import { writeForbidden } from './may-write.ts'
import type { SessionState } from './session-state.ts'
import type { sessionWrite } from './session-write.ts'

/** Ends an interrupted write: by a fresh read and an ordinary safe write of the old or the new values, or by leaving it. */
export async function resolveJournal(
  state: SessionState,
  { write }: ReturnType<typeof sessionWrite>,
  journalId: string,
  how: 'restore' | 'complete' | 'leave',
  agreesWithPanel: boolean,
): Promise<Result<WriteReceipt, WriteFailure>> {
  const { show, view } = state
  const pending = state.pendingWrite()
  if (pending?.open.journalId !== journalId) return fail({ kind: 'not-allowed', why: 'This write is no longer open.' })
  if (how === 'leave') {
    const left = endJournal(state, journalId, 'left', null)
    return left.ok ? ok({ written: [], alsoMoved: [], saved: false, unsaved: [] }) : left
  }
  const { begin } = pending.open
  if (!view().writing && begin.place) {
    const following = { step: 'following', done: 0, of: begin.wanted.length } as const
    show({ writing: following })
    const found = await state.move.goWhereItIs(pending.open, (says) => show({ writing: { ...following, says } }))
    show({ writing: null })
    if (!found.ok) return found
    if (view().identity.outcome !== 'confirmed') await state.identify()
  }
  if (agreesWithPanel) state.vouch(true)
  const why = writeForbidden(state, true)
  if (why) return fail({ kind: 'not-allowed', why })
  const image = await state.read()
  if (!image.ok) return fail({ kind: 'failed', because: image.failure, during: 'reading-again', end: 'nothing-written', parameters: [] })
  const wanted = begin.wanted.flatMap((w): Wanted[] => {
    const register = findRegister(state.options.profile, w.key)
    const old = begin.before.values[w.key]
    if (!register || !old) return []
    return [
      how === 'complete'
        ? { register, words: w.words, value: w.value }
        : { register, words: old.words, value: old.value ?? `words ${old.words.join(' ')}` },
    ]
  })
  // Written even where volatile memory already agrees: what is saved may still be the other half.
  const result = await write(image.value, wanted, true)
  if (!result.ok) return result
  const ended = endJournal(state, journalId, how === 'complete' ? 'written' : 'restored', image.value)
  return ended.ok ? result : ended
}

/** Says why where the disk does not take it; the write then stays open. */
function endJournal(
  { options: { journal, clock }, show, pendingWrite }: SessionState,
  journalId: string,
  outcome: 'written' | 'restored' | 'left',
  image: SettingsImage | null,
): Result<null, WriteFailure> {
  const log = journal.reopen(journalId)
  const at = clock.stamp()
  const noted = log.ok ? log.value.note({ kind: 'end', at, outcome, ...(image ? { now: image.values } : {}) }) : log
  if (log.ok) log.value.close()
  show({ openWrite: pendingWrite()?.shown ?? null })
  if (noted.ok) return ok(null)
  const why = typeof noted.failure === 'string' ? noted.failure : noted.failure.why
  return fail({
    kind: 'not-allowed',
    why: `The journal of the write could not be ended: ${why} Make room on the disk, then do this again.`,
  })
}
