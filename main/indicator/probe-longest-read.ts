import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { OpenBus } from '../bus/open-bus.ts'
import { longestRead } from './view-registers.ts'

export type LongestRead = {
  longest: number
  /** The shortest length above it that was not answered with registers; absent where the protocol allows no more. */
  refused?: { count: number; because: BusFailure }
}

/**
 * Finds by reading alone how many registers from an address on one request can bring: all that the protocol allows, or the edge
 * between answered and not, by halving. Fails where not even one register is brought, and by whatever ends all sending.
 * Limits: a unit that has no more registers there refuses just as one that takes no longer request; who asks has to know.
 */
export async function probeLongestRead(
  port: Pick<OpenBus, 'request'>,
  unit: number,
  { table, address, answerMs, signal }: { table: 'holding' | 'input'; address: number; answerMs: number; signal?: AbortSignal },
): Promise<Result<LongestRead, BusFailure>> {
  const ask = (count: number) =>
    port.request(unit, { kind: 'read-registers', table, address, count }, { priority: 'user', answerMs, ...(signal ? { signal } : {}) })
  const one = await ask(1)
  if (!one.ok) return one
  let answered = 1
  let refused: { count: number; because: BusFailure } | undefined
  const most = Math.min(longestRead, 0x10000 - address)
  for (let next = most; next > answered; next = Math.floor((answered + (refused?.count ?? most)) / 2)) {
    const outcome = await ask(next)
    if (outcome.ok) answered = next
    else if (outcome.failure.kind === 'refused' || outcome.failure.kind === 'no-reply' || outcome.failure.kind === 'garbled')
      refused = { count: next, because: outcome.failure }
    else return fail(outcome.failure)
  }
  return ok({ longest: answered, ...(refused ? { refused } : {}) })
}
