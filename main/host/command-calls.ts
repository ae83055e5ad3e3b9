import type { TakenOff } from '../../app/contract/command-calls.ts'
import type { Handlers, HostCalls } from '../../app/contract/contract.ts'
import { notConfirmed, takenOffBy } from '../../app/evaluation/zero-setting.ts'
import type { Point } from '../../app/job/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { unitMeant } from '../../app/scaling/reading-settings.ts'
import { readLive } from '../indicator/live-read.ts'
import type { IndicatorSession } from './indicator-session.ts'
import { refuse } from './refusals.ts'
import { pointOf, type World } from './world.ts'

type Failure = Extract<HostCalls['indicator.preview-command']['reply'], { ok: false }>['failure']

export function commandCalls(w: World): Pick<Handlers, 'indicator.command' | 'indicator.preview-command'> {
  const target = (pointId: string) => {
    const point = pointOf(w, pointId)
    const session = point?.indicatorId ? w.sessions.get(point.indicatorId) : undefined
    return point && session ? { point, session } : null
  }
  const nowhere = () => refuse('This point has no indicator to command.', 'pointId')

  return {
    async 'indicator.preview-command'({ pointId, command }) {
      const found = target(pointId)
      return found ? takenOffNow(command, found.point, found.session) : nowhere()
    },

    async 'indicator.command'({ pointId, command, confirmed }) {
      const found = target(pointId)
      if (!found) return nowhere()
      const { point, session } = found
      const barred = session.commandForbidden(command)
      if (barred) return refuse(barred, 'command')
      if (command === 'zero' || command === 'tare') {
        const taken = await takenOffNow(command, point, session)
        if (!taken.ok) return taken
        const why = notConfirmed(command, point, taken.value, confirmed)
        if (why) return fail({ kind: 'confirm-first', why, takenOff: taken.value })
      }
      const done = await session.command(command, point.channel)
      return done.ok ? ok({}) : done
    },
  }
}

/** Read now, not from the last poll: what is confirmed must be what is there. */
async function takenOffNow(command: 'zero' | 'tare', point: Point, session: IndicatorSession): Promise<Result<TakenOff, Failure>> {
  const never = takenOffBy(command, point, { text: null, unit: undefined })
  if (!never.ok) return refuse(never.failure, 'command')
  const read = await readLive(session.io, [{ pointId: point.id, channel: point.channel }], session.view().held, 'user')
  if (!read.ok) return read
  const sample = read.value[0]
  const text = sample?.gross ?? sample?.reading ?? null
  const taken = takenOffBy(command, point, {
    text: text !== null && Number.isFinite(Number(text)) ? text : null,
    unit: unitMeant(sample?.unit ?? ''),
  })
  return taken.ok ? taken : refuse(taken.failure, 'command')
}
