import type { WriteFailure, WriteReceipt } from '../../app/contract/views.ts'
import { fail, type Result } from '../../app/result.ts'
import { askWho, type Who } from '../indicator/who-answers.ts'
import { busyWriting, writeForbidden } from './may-write.ts'
import type { sessionPreviews } from './session-previews.ts'
import type { SessionState } from './session-state.ts'
import type { sessionWrite } from './session-write.ts'

type Adopted = Result<WriteReceipt, WriteFailure>

/** Gives the unit that answers at `from`, and is the one told by `who`, this indicator's own address, and goes on with it there. */
export async function adopt(
  state: SessionState,
  { addressWanted }: ReturnType<typeof sessionPreviews>,
  { write }: ReturnType<typeof sessionWrite>,
  from: number,
  who: Who,
  agreesWithPanel: boolean,
): Promise<Adopted> {
  const { reach } = state
  const home = reach.place()
  const notAllowed = (why: string) => fail<WriteFailure>({ kind: 'not-allowed', why })
  const busy = busyWriting(state.view())
  if (busy) return notAllowed(busy)
  await reach.goTo({ ...home, unit: from })
  const result = await adoptHere()
  if (!result.ok) await reach.goTo(home)
  return result

  async function adoptHere(): Promise<Adopted> {
    const there = await askWho(reach.io(), who)
    if (there.kind !== 'ours')
      return notAllowed(`The unit that was found at address ${from} is not the one that answers there now. Look again.`)
    const identity = await state.identify()
    if (identity.ok && agreesWithPanel) state.vouch(true)
    const why = writeForbidden(state)
    if (why) return notAllowed(why)
    const image = await state.read()
    if (!image.ok) return fail({ kind: 'failed', because: image.failure, during: 'reading-again', end: 'nothing-written', parameters: [] })
    const wanted = addressWanted(home.unit, image.value)
    return wanted.ok ? write(image.value, wanted.value) : notAllowed(wanted.failure.why)
  }
}
