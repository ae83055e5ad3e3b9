import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { OpenBus } from '../bus/open-bus.ts'
import type { Outcome } from '../bus/request.ts'
import type { Priority } from './unit-io.ts'

/** One request of a view, and whether the unit has what it asks for. */
export type ViewedPiece = { address: number; count: number; there: boolean }

/** Words of a block, or bits as 0 and 1; null where the unit says that it has no such register. `at` is the time of the last answer. */
export type ViewedBlock = {
  words: (number | null)[]
  at: number
  /** How the block was got; given again as `known`, the same block costs no request in vain. */
  pieces: ViewedPiece[]
  /** The longest request that may be made from now on: shorter once a longer one was refused as too long. */
  longest: number
}

export type ViewOptions = {
  table: 'holding' | 'input' | 'coil' | 'discrete'
  address: number
  count: number
  answerMs: number
  /** No request is longer; 125 unless told otherwise. */
  longest?: number
  /** Rest after each request that the unit asks for, in ms. */
  pauseMs?: number
  pause?: (ms: number) => Promise<void>
  priority?: Priority
  signal?: AbortSignal
  known?: readonly ViewedPiece[]
}

/** Most registers that one request can bring (MODBUS Application Protocol V1.1b3, 6.3 and 6.4). */
export const longestRead = 125
const noSuchAddress = 2
const noSuchCount = 3

/**
 * Reads any block of a unit about which nothing is known yet. Only reads. Where the unit refuses a request as reaching beyond
 * its registers (exception 02) or as too long (03), or falls silent though it answers shorter ones, smaller ones follow, down to
 * one register. Sizes are powers of two, so that values of two registers at even distances stay whole as long as possible.
 */
export async function viewBlock(
  port: Pick<OpenBus, 'request'>,
  unit: number,
  options: ViewOptions,
): Promise<Result<ViewedBlock, BusFailure>> {
  const { known } = options
  const words: (number | null)[] = []
  const done: ViewedPiece[] = []
  let at = 0
  let longest = options.longest ?? longestRead
  const pending: Asked[] = known ? [...known] : pieces(options.address, Math.min(options.count, 0x10000 - options.address), longest)
  for (let next = pending.shift(); next; next = pending.shift()) {
    if (next.there === false) {
      words.push(...new Array<null>(next.count).fill(null))
      done.push({ ...next, there: false })
      continue
    }
    const outcome = await ask(port, unit, options, next)
    if (outcome.ok) {
      at = outcome.value.at
      words.push(...wordsOf(outcome))
      done.push({ ...next, there: true })
      continue
    }
    const { failure } = outcome
    const smaller = 2 ** (Math.ceil(Math.log2(next.count)) - 1)
    const isMissing = failure.kind === 'refused' && (failure.code === noSuchAddress || failure.code === noSuchCount)
    const isTooLong = failure.kind === 'no-reply' && next.count > 1 && (await answersOne(port, unit, options, next.address))
    if (!isMissing && !isTooLong) return fail(failure)
    if (next.count === 1) {
      words.push(null)
      done.push({ ...next, there: false })
      continue
    }
    if (isTooLong || (failure.kind === 'refused' && failure.code === noSuchCount)) longest = Math.min(longest, smaller)
    pending.unshift(...pieces(next.address, next.count, smaller))
  }
  return ok({ words, at, pieces: done, longest })
}

/** `there` is known to be false where it was asked for before. */
type Asked = { address: number; count: number; there?: boolean }

async function ask(port: Pick<OpenBus, 'request'>, unit: number, options: ViewOptions, { address, count }: Asked) {
  const { table, answerMs, pauseMs = 0, pause, priority = 'user', signal } = options
  const outcome = await port.request(
    unit,
    table === 'coil' || table === 'discrete'
      ? { kind: 'read-bits', table, address, count }
      : { kind: 'read-registers', table, address, count },
    { priority, answerMs, ...(signal ? { signal } : {}) },
  )
  if (pauseMs > 0) await pause?.(pauseMs)
  return outcome
}

/** Is it the length that the unit is silent about, or is it not there at all? A refusal is an answer, too. */
async function answersOne(port: Pick<OpenBus, 'request'>, unit: number, options: ViewOptions, address: number): Promise<boolean> {
  const outcome = await ask(port, unit, { ...options, priority: 'user' }, { address, count: 1 })
  return outcome.ok || outcome.failure.kind === 'refused'
}

function wordsOf(outcome: Outcome): number[] {
  if (!outcome.ok) return []
  return outcome.value.kind === 'words' ? outcome.value.words : outcome.value.kind === 'bits' ? outcome.value.bits.map(Number) : []
}

function pieces(address: number, count: number, longest: number): Asked[] {
  const list: Asked[] = []
  for (let done = 0; done < count; done += longest) list.push({ address: address + done, count: Math.min(longest, count - done) })
  return list
}
