import type { HeldValue, SettingsImage } from '../../app/job/schema.ts'
import { registerKey } from '../../app/profile/schema.ts'
import { findRegister } from '../../app/profile/settings.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { runSteps } from './procedure.ts'
import type { RegisterWords } from './unit-io.ts'
import { type Cause, readImage, type Trouble, type WriteContext } from './write-context.ts'
import { textOf } from './write-report.ts'

/** Puts back what an interrupted write found, or what an earlier journal holds; the same way, without a further way back. */
async function putBack(
  context: WriteContext,
  before: SettingsImage,
  keys: readonly string[],
  saveToo: boolean,
): Promise<Result<SettingsImage, Trouble>> {
  const { io, clock } = context
  context.onStep('restoring', 0, keys.length)
  const old = keys.flatMap((key): RegisterWords[] => {
    const register = findRegister(io.profile, key)
    const held = before.values[key]
    return register && held ? [{ register, words: held.words }] : []
  })
  const { unlock, save, lock } = io.profile.procedures
  const during = 'restoring' as const
  if (unlock) {
    const unlocked = await runSteps(io, unlock.steps, clock)
    if (!unlocked.ok) return fail({ because: unlocked.failure, during })
  }
  const written = await io.write(old)
  if (!written.ok) return fail({ because: written.failure, during })
  if (save && saveToo) {
    const saved = await runSteps(io, save.steps, clock)
    if (!saved.ok) return fail({ because: saved.failure, during })
  }
  if (lock) await runSteps(io, lock.steps, clock)
  const image = await readImage(io, context.stamp)
  if (!image.ok) return fail({ because: image.failure, during })
  const wrong = old.find((w) => !sameWords(before.values[registerKey(w.register)], image.value.values[registerKey(w.register)]))
  if (wrong) {
    const key = registerKey(wrong.register)
    return fail({
      because: { kind: 'read-back-differs', key, wanted: textOf(before.values[key]), got: textOf(image.value.values[key]) },
      during,
    })
  }
  return ok(image.value)
}

const restoreTries = 3

/** One lost frame must not leave a half-written indicator: tries again unless the line is gone or the user stopped it. */
export async function putBackPatiently(...args: Parameters<typeof putBack>): ReturnType<typeof putBack> {
  let back = await putBack(...args)
  for (let tries = 1; tries < restoreTries && !back.ok && !isOver(back.failure.because); tries++) back = await putBack(...args)
  return back
}

const isOver = (because: Cause) => because.kind === 'stopped' || because.kind === 'link-down' || because.kind === 'other-master'

const sameWords = (a: HeldValue | undefined, b: HeldValue | undefined) =>
  a !== undefined && b !== undefined && a.words.join() === b.words.join()
