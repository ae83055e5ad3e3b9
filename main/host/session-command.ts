import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { CommandName } from '../../app/profile/schema.ts'
import { fail, type Result } from '../../app/result.ts'
import { runSteps } from '../indicator/procedure.ts'
import { commandForbidden } from './may-write.ts'
import type { Refusal } from './session-move.ts'
import type { SessionState } from './session-state.ts'

/** Has the indicator do what its profile says for this command, and logs it. */
export async function sendCommand(state: SessionState, name: CommandName, channel: number): Promise<Result<null, BusFailure | Refusal>> {
  const { profile, clock, indicator, by, log } = state.options
  const procedure = profile.commands[name]
  const why = commandForbidden(state, name)
  if (why !== null || !procedure) return fail({ kind: 'refused-request', why: why ?? '' })
  const done = state.heard(await runSteps(state.reach.io(), procedure.steps, clock, channel))
  const logged = log({
    at: clock.stamp(),
    by: by(),
    indicatorId: indicator.id,
    unit: state.reach.place().unit,
    command: name,
    channel,
    result: done,
  })
  if (!logged.ok && done.ok)
    return fail({
      kind: 'refused-request',
      why: `It was done, but the log of writes does not say so: ${logged.failure} Note it by hand.`,
    })
  return done
}
