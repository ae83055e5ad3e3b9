import type { SettingsImage } from '../../app/job/schema.ts'
import { samePlace } from '../../app/profile/bus-registers.ts'
import { registerKey } from '../../app/profile/schema.ts'
import { fail, ok } from '../../app/result.ts'
import type { WriteJournal } from '../files/write-journal.ts'
import { adviceFor, type Found, type Moving, moveUnit, placeAfter } from './move-unit.ts'
import { putBackPatiently } from './put-back.ts'
import { readImage, type Trouble, type Wanted, type WriteContext, type WriteEnd } from './write-context.ts'
import { differsFrom, outcomes, receiptOf } from './write-report.ts'

/**
 * The last part of a write, `last`: address and line format, and going after the indicator. All of `wanted` is read back where
 * it is then. Found at its old place after trouble, it is put back as it was. Anywhere else the journal stays open, and so it
 * does after success: it is ended by the one who keeps the job, once the job names the new place.
 */
export async function writeAndFollow(
  context: WriteContext,
  before: SettingsImage,
  wanted: readonly Wanted[],
  last: readonly Wanted[],
  journal: WriteJournal,
  moving: Moving,
): Promise<WriteEnd> {
  const { stamp } = context
  const [old, target] = [moving.place, placeAfter(moving.place, last)]
  const end = await moveUnit(context, moving, last, journal)
  if (end.kind === 'trouble') return giveUpMoving(end, end)

  context.onStep('reading-all', last.length, last.length)
  const image = await readImage(end.io, stamp)
  const found: Found = { answers: samePlace(end.place, target) ? 'at-new' : 'at-old', place: end.place }
  if (!image.ok) return giveUpMoving({ because: image.failure, during: 'reading-all' }, found)
  const doubt = differsFrom(wanted, image.value)
  if (doubt) return giveUpMoving(doubt, found)
  const receipt = { ...receiptOf(end.io, before, image.value, wanted), moved: { from: old, to: target, when: end.when } }
  return { result: ok(receipt), image: image.value, place: end.place }

  async function giveUpMoving({ because, during }: Trouble, where: Found): Promise<WriteEnd> {
    const keys = wanted.map((w) => registerKey(w.register))
    const back = where.answers === 'at-old' ? await putBackPatiently(context, before, keys, true) : null
    journal.note(
      back?.ok
        ? { kind: 'end', at: stamp(), outcome: 'restored', now: back.value.values }
        : { kind: 'step', at: stamp(), step: `not-restored, it answers ${where.answers}` },
    )
    const now = back?.ok ? back.value : await readNow(where)
    return {
      result: fail({
        kind: 'failed',
        because,
        during,
        end: back?.ok ? 'restored' : 'not-restored',
        parameters: outcomes(before, wanted, now),
        whereabouts: { old, new: target, answers: where.answers, advice: adviceFor(where, old, target) },
      }),
      image: now,
      place: where.place,
    }
  }

  async function readNow({ place }: Found): Promise<SettingsImage | null> {
    const io = place && (await moving.ioAt(place))
    const image = io?.ok ? await readImage(io.value, stamp) : null
    return image?.ok ? image.value : null
  }
}
