import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { RequestPort } from './unit-io.ts'

/** Words of a block; null where the unit says that it has no such register. `at` is the time of the last answer. */
export type ViewedBlock = { words: (number | null)[]; at: number }

export type ViewOptions = { table: 'holding' | 'input'; address: number; count: number; answerMs: number }

const longestRead = 125
const noSuchAddress = 2
const noSuchCount = 3

/**
 * Reads any block of a unit about which nothing is known yet. Only reads. Where the unit refuses a request as reaching beyond
 * its registers (exception 02) or as too long (03), smaller ones follow, down to one register.
 * Sizes are powers of two, so that values of two registers at even distances stay whole as long as possible.
 */
export async function viewBlock(port: RequestPort, unit: number, options: ViewOptions): Promise<Result<ViewedBlock, BusFailure>> {
  const { table, answerMs } = options
  const words: (number | null)[] = []
  let at = 0
  const pending = pieces(options.address, Math.min(options.count, 0x10000 - options.address), longestRead)
  for (let next = pending.shift(); next; next = pending.shift()) {
    const outcome = await port.request(unit, { kind: 'read-registers', table, ...next }, { priority: 'user', answerMs })
    if (outcome.ok) {
      at = outcome.value.at
      words.push(...(outcome.value.kind === 'words' ? outcome.value.words : []))
      continue
    }
    const { failure } = outcome
    const smaller = failure.kind === 'refused' && (failure.code === noSuchAddress || failure.code === noSuchCount)
    if (!smaller) return fail(failure)
    if (next.count === 1) words.push(null)
    else pending.unshift(...pieces(next.address, next.count, 2 ** (Math.ceil(Math.log2(next.count)) - 1)))
  }
  return ok({ words, at })
}

function pieces(address: number, count: number, longest: number): { address: number; count: number }[] {
  const list: { address: number; count: number }[] = []
  for (let done = 0; done < count; done += longest) list.push({ address: address + done, count: Math.min(longest, count - done) })
  return list
}
