import type { Handlers } from '../../app/contract/contract.ts'
import { fail, ok } from '../../app/result.ts'
import { identify } from '../indicator/identify.ts'
import { unitIo } from '../indicator/unit-io.ts'
import { answeringBy, readWho, sameWho, type Who } from '../indicator/who-answers.ts'
import { keepAsFound } from './job-calls.ts'
import { refuse } from './refusals.ts'
import { busOf, indicatorOf, type World } from './world.ts'

type AddressCalls = Pick<Handlers, 'address.preview' | 'address.look' | 'address.give'>

/** Two units with one address may by chance answer alike once; their serial numbers do not agree again and again. */
const looks = 3

const twoAtOnce = (at: number) =>
  `Something answers at address ${at}, but not soundly or not always alike: two new units may be on the line at once. Leave one of them connected.`

export function addressCalls(w: World, keepPreviewOwner: (previewId: string, indicatorId: string) => void): AddressCalls {
  const found = new Map<string, { indicatorId: string; at: number; who: Who }>()

  return {
    async 'address.preview'({ indicatorId, address }) {
      const session = w.sessions.get(indicatorId)
      if (!session) return refuse(`There is no indicator ${indicatorId} in this job.`, 'indicatorId')
      const preview = await session.previewAddress(address)
      if (preview.ok) keepPreviewOwner(preview.value.previewId, indicatorId)
      return preview
    },

    async 'address.look'({ indicatorId, at: asked }) {
      const indicator = indicatorOf(w, indicatorId)
      const profile = indicator && w.profiles.get(indicator.profileId)
      if (!indicator || !profile) return refuse(`There is no indicator ${indicatorId} with a known profile in this job.`, 'indicatorId')
      const at = asked ?? profile.serial?.unit
      if (at === undefined) return refuse(`${profile.name} states no factory address; say where to look.`, 'at')
      const to = indicator.unit
      if (at === to)
        return refuse(`${indicator.name} is to have address ${to}, where the new units are: connect it last, and leave it as it is.`)
      const bus = w.buses.get(indicator.busId)
      if (!bus) return refuse(`${busOf(w, indicator.busId)?.name ?? 'The bus'} is not open. Open it first.`)
      const other = w.store.job.indicators.find((i) => i.busId === indicator.busId && i.unit === at)
      if (other && w.sessions.get(other.id)?.view().answering === 'yes')
        return refuse(
          `${other.name} has address ${at} and answers there: it is not new. Take it off the line, or give it another address first.`,
        )

      const io = unitIo(bus, at, profile, w.clock.pause)
      const nothing = { at, to, lookId: null, identity: null }
      let who: Who | null = null
      for (let look = 0; look < looks; look++) {
        const read = await readWho(io)
        const answering = read.ok ? null : answeringBy(read.failure)
        if (answering?.kind === 'failed') return fail(answering.because)
        if (answering?.kind === 'nobody' && look === 0) return ok({ ...nothing, answers: 'nobody' as const, advice: '' })
        if (answering?.kind === 'other' && look === 0)
          return ok({
            ...nothing,
            answers: 'one' as const,
            advice: `What answers at address ${at} is not ${profile.name}: it refuses what that would tell.`,
          })
        if (!read.ok || (who && !sameWho(who, read.value))) return ok({ ...nothing, answers: 'unclear' as const, advice: twoAtOnce(at) })
        who = read.value
      }
      const identity = await identify(io)
      if (!identity.ok || !who) return ok({ ...nothing, answers: 'unclear' as const, advice: twoAtOnce(at) })
      const lookId = w.newId('look')
      found.clear()
      found.set(lookId, { indicatorId, at, who })
      return ok({ at, to, answers: 'one' as const, lookId, identity: identity.value, advice: '' })
    },

    async 'address.give'({ lookId, agreesWithPanel }) {
      const one = found.get(lookId)
      const session = one && w.sessions.get(one.indicatorId)
      const bus = one && w.buses.get(indicatorOf(w, one.indicatorId)?.busId ?? '')
      if (!session || !bus) return fail({ kind: 'not-allowed', why: 'This look is no longer current. Look again.' })
      if (w.session.visitId === null)
        return fail({ kind: 'not-allowed', why: 'Say who is at the machine first: a write is logged with a name.' })
      found.delete(lookId)
      const given = await session.adopt(one.at, one.who, agreesWithPanel)
      if (!given.ok) return given
      const { held } = session.view()
      if (held) keepAsFound(w, one.indicatorId, held)
      const still = await readWho(unitIo(bus, one.at, session.profile, w.clock.pause))
      const answersAtOld = still.ok
        ? 'one'
        : ({ nobody: 'nobody', other: 'one' } as const)[answeringBy(still.failure).kind as 'nobody' | 'other']
      return ok({ receipt: given.value, answersAtOld: answersAtOld ?? 'unclear' })
    },
  }
}
