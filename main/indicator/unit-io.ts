import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { planWithMeaning } from '../../app/profile/meaning.ts'
import { type Profile, type Register, registerKey } from '../../app/profile/schema.ts'
import { splitWords, wordCount } from '../../app/profile/words.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { Outcome, Request } from '../bus/request.ts'

export type Priority = 'user' | 'capture' | 'live'

/** What an indicator session needs of a bus; the scheduler offers it. */
export type RequestPort = {
  request(unit: number, request: Request, options: { priority: Priority; answerMs: number; pauseMs?: number }): Promise<Outcome>
}

/** One addressed unit on a bus, spoken to by its profile's rules. */
export type UnitIo = {
  profile: Profile
  read(registers: readonly Register[], priority: Priority): Promise<Result<{ words: Map<string, number[]>; at: number }, BusFailure>>
  /** Writes in the order given, merged only where the profile allows it. `before` each request may say why it must not leave. */
  write<F = never>(writes: readonly RegisterWords[], before?: (keys: string[]) => Result<null, F>): Promise<Result<null, BusFailure | F>>
}

export type RegisterWords = { register: Register; words: readonly number[] }

export function unitIo(port: RequestPort, unit: number, profile: Profile, pause: (ms: number) => Promise<void>): UnitIo {
  const { answerMs, pauseMs } = profile.requests
  const send = async (request: Request, priority: Priority) => {
    const outcome = await port.request(unit, request, { priority, answerMs, pauseMs })
    if (pauseMs > 0) await pause(pauseMs)
    return outcome
  }
  return {
    profile,
    async read(registers, priority) {
      const words = new Map<string, number[]>()
      let at = 0
      for (const block of planWithMeaning(profile, registers)) {
        const isBits = block.table === 'coil' || block.table === 'discrete'
        const outcome = await send(
          isBits
            ? { kind: 'read-bits', table: block.table as 'coil' | 'discrete', address: block.address, count: block.count }
            : { kind: 'read-registers', table: block.table as 'holding' | 'input', address: block.address, count: block.count },
          priority,
        )
        if (!outcome.ok) return outcome
        at = outcome.value.at
        const got =
          outcome.value.kind === 'words' ? outcome.value.words : outcome.value.kind === 'bits' ? outcome.value.bits.map(Number) : []
        for (const r of block.registers) {
          const from = r.address - block.address
          words.set(registerKey(r), got.slice(from, from + wordCount(r.type)))
        }
      }
      return ok({ words, at })
    },
    async write(writes, before) {
      for (const group of groupWrites(writes.filter(isFirstOfItsWord), profile)) {
        const may = before?.(writes.filter((w) => group.some((sent) => isSameWord(sent, w))).map((w) => registerKey(w.register)))
        if (may && !may.ok) return may
        const outcome = await send(maskRequest(group, writes, profile) ?? writeRequest(group, profile), 'user')
        if (!outcome.ok) return fail(outcome.failure)
      }
      return ok(null)
    },
  }
}

/** Fields of one word carry the same words: one write brings them all. */
const isSameWord = (a: RegisterWords, b: RegisterWords) =>
  a.register.table === b.register.table && a.register.address === b.register.address && a.words.join() === b.words.join()

const isFirstOfItsWord = (write: RegisterWords, index: number, all: readonly RegisterWords[]) =>
  all.findIndex((other) => isSameWord(other, write)) === index

/** Writes that travel together: neighbours in address and order, in one FC16, where the profile allows that. */
function groupWrites(writes: readonly RegisterWords[], profile: Profile): RegisterWords[][] {
  const groups: RegisterWords[][] = []
  for (const write of writes) {
    const open = groups.at(-1)
    const last = open?.at(-1)
    const follows =
      last &&
      last.register.table === 'holding' &&
      write.register.table === 'holding' &&
      last.register.address + last.words.length === write.register.address
    const length = open?.reduce((sum, w) => sum + w.words.length, write.words.length) ?? 0
    const alone = isMasked(write.register, profile) || (last && isMasked(last.register, profile))
    const mayJoin =
      !alone && !profile.requests.oneParameterAWrite && profile.requests.writeWith !== 'fc06' && length <= profile.requests.longestWrite
    if (open && follows && mayJoin) open.push(write)
    else groups.push([write])
  }
  return groups
}

/** Bits of a word that the indicator keeps for itself, or changes meanwhile, stay out of it where the profile says so. */
const isMasked = (r: Register, profile: Profile) =>
  profile.requests.maskWrite === true && r.field !== undefined && r.table === 'holding' && wordCount(r.type) === 1

/** Function 22 for the fields of one word that are written. Source: MODBUS Application Protocol V1.1b3, 6.16. */
function maskRequest(group: readonly RegisterWords[], writes: readonly RegisterWords[], profile: Profile): Request | null {
  const [first] = group
  if (!first || !isMasked(first.register, profile)) return null
  const fields = writes.filter((w) => isSameWord(w, first)).flatMap((w) => w.register.field ?? [])
  const bits = fields.reduce((all, { from, width }) => all | ((2 ** width - 1) << from), 0)
  const [mask = 0] = splitWords(bits, first.register.order)
  return { kind: 'mask-write', address: first.register.address, and: ~mask & 0xffff, or: (first.words[0] ?? 0) & mask }
}

function writeRequest(group: readonly RegisterWords[], profile: Profile): Request {
  const [first] = group
  if (!first) throw new RangeError('an empty write')
  const words = group.flatMap((w) => [...w.words])
  if (first.register.table === 'coil') return { kind: 'write-coil', address: first.register.address, on: words[0] !== 0 }
  if (words.length === 1 && profile.requests.writeWith !== 'fc16')
    return { kind: 'write-register', address: first.register.address, word: words[0] ?? 0 }
  return { kind: 'write-registers', address: first.register.address, words }
}
