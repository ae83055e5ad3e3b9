import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { SerialFormat } from '../../app/profile/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { type Asked, asked, type Echo, echoPasses, type Found, findAnswer, judgeSilence } from './answer-search.ts'
import { type BusClock, pause, waitUntil } from './bus-clock.ts'
import type { ByteStream, OpenStream } from './byte-stream.ts'
import { hex } from './hex.ts'
import { type Kept, keepOpen } from './keep-open.ts'
import { type LineTiming, lineTiming, wireMs } from './line-timing.ts'
import { onlyReads } from './pdu.ts'
import { ReceivedBytes } from './received-bytes.ts'
import type { Link, LinkState, Outcome, Request, TappedFrame } from './request.ts'
import { longestAnswer, longestFrame } from './rtu-frame.ts'

export type RtuLinkOptions = {
  /** After a request without a sound answer nothing is sent for this many of its answer times; 1 unless told otherwise. */
  quarantine?: number
}

/** Pause after a broadcast, in ms. Source: MODBUS over Serial Line V1.02, 2.4.1: typically 100 to 200 ms. */
const turnaroundMs = 100
/** A line that is never silent is given up after this long, in ms. Common practice, no source. */
const neverSilentMs = 1000

type Exchange = {
  asked: Asked
  writtenAt: number
  sentAt: number
  received: ReceivedBytes
  refusedEarly: boolean
  settle(outcome: Outcome): void
}

/**
 * Modbus RTU over a byte stream, opened again by itself when it is lost. One request at a time.
 * The deadline is one moment, fixed when the request is written: its time on the wire, the answer time, and the time of the
 * longest answer on the wire. Silence and quarantine before the request come on top.
 * Limit: an answer that comes later than the quarantine, while the same unit is being asked something of the same shape,
 * cannot be told from the right one by its content. It is refused where it begins before our request can have left the wire,
 * unless the line is known not to keep its bit rate: an answer came too early that nothing else can have been, or one was refused
 * as too early and no other came, not even during the quarantine.
 */
export async function openRtuLink(
  open: OpenStream,
  format: SerialFormat,
  clock: BusClock,
  options: RtuLinkOptions = {},
): Promise<Result<Link, string>> {
  const link = new RtuLink(lineTiming(format), clock, options)
  const kept = await keepOpen(open, clock, (stream) => link.attach(stream))
  if (!kept.ok) return kept
  link.keep(kept.value)
  return ok(link)
}

class RtuLink implements Link {
  readonly #clock: BusClock
  readonly #timing: LineTiming
  readonly #quarantine: number
  readonly #unaskedListeners = new Set<(bytes: Uint8Array) => void>()
  readonly #tapListeners = new Set<(frame: TappedFrame) => void>()
  readonly #idle = new ReceivedBytes(longestFrame)
  #kept: Kept<ByteStream> | undefined
  #exchange: Exchange | undefined
  #busy = false
  #lastByteAt = Number.NEGATIVE_INFINITY
  #quietUntil = Number.NEGATIVE_INFINITY
  /** By unit, the last request that got no sound answer since there was one: its answer may still be on the way. */
  readonly #owed = new Map<number, Asked>()
  /** An answer was refused as too early, and none has come since to the request that it came upon. */
  #refusedAlone = false
  #echo: Echo = 'unknown'
  /** Answers were seen before the request could have left at this bit rate: a pty, or a USB device that ignores the rate. */
  #unpaced = false
  #endQuarantine = () => {}

  constructor(timing: LineTiming, clock: BusClock, { quarantine }: RtuLinkOptions) {
    this.#timing = timing
    this.#clock = clock
    this.#quarantine = quarantine ?? 1
  }

  attach(stream: ByteStream): void {
    this.#idle.clear()
    stream.onBytes((bytes) => this.#onBytes(bytes))
  }

  keep(kept: Kept<ByteStream>): void {
    this.#kept = kept
    kept.onState(() => {
      const down = this.#down()
      if (!down) return
      this.#exchange?.settle(fail(down))
      this.#endQuarantine()
    })
  }

  get state(): LinkState {
    return this.#kept?.state ?? { kind: 'closed' }
  }

  onState(listener: (state: LinkState) => void): () => void {
    return this.#kept?.onState(listener) ?? (() => {})
  }

  onUnasked(listener: (bytes: Uint8Array) => void): () => void {
    this.#unaskedListeners.add(listener)
    return () => this.#unaskedListeners.delete(listener)
  }

  onTap(listener: (frame: TappedFrame) => void): () => void {
    this.#tapListeners.add(listener)
    return () => this.#tapListeners.delete(listener)
  }

  async close(): Promise<void> {
    await this.#kept?.close()
  }

  async transact(unit: number, request: Request, answerWithinMs: number, maySend: () => boolean = () => true): Promise<Outcome> {
    if (this.#busy) throw new Error('a request is already on the line')
    this.#busy = true
    try {
      const ours = asked(unit, request)
      const unquiet = await this.#waitForSilence()
      if (unquiet) return fail(unquiet)
      if (!maySend()) return fail({ kind: 'stopped' })
      if (unit === 0 && !onlyReads(request)) return await this.#broadcast(ours)
      return await this.#ask(ours, answerWithinMs)
    } finally {
      this.#busy = false
    }
  }

  async #waitForSilence(): Promise<BusFailure | undefined> {
    const giveUpAt = Math.max(this.#clock.now(), this.#quietUntil) + neverSilentMs
    for (;;) {
      const down = this.#down()
      if (down) return down
      const now = this.#clock.now()
      if (now < this.#quietUntil) {
        await this.#quarantined(this.#quietUntil - now)
        continue
      }
      const due = this.#lastByteAt + this.#timing.silenceMs
      if (now >= due) return undefined
      if (now >= giveUpAt) return { kind: 'garbled', bytes: hex(this.#idle.bytes) }
      await waitUntil(this.#clock, due)
    }
  }

  /** Ends early when the answer that is waited for comes, or the link goes. */
  #quarantined(ms: number): Promise<void> {
    return new Promise((resolve) => {
      const cancel = this.#clock.after(ms, resolve)
      this.#endQuarantine = () => {
        cancel()
        resolve()
      }
    })
  }

  async #broadcast(ours: Asked): Promise<Outcome> {
    const writtenAt = this.#write(ours.frame)
    await pause(this.#clock, wireMs(this.#timing, ours.frame.length) + turnaroundMs)
    const at = this.#clock.now()
    const down = this.#down()
    return down ? fail(down) : ok({ kind: 'done', at, tookMs: at - writtenAt })
  }

  #ask(ours: Asked, answerWithinMs: number): Promise<Outcome> {
    return new Promise((resolve) => {
      const waitMs = wireMs(this.#timing, ours.frame.length + longestAnswer(ours.request)) + answerWithinMs
      // What came while nothing was asked is nobody's answer any more.
      this.#idle.clear()
      if (this.#refusedAlone) this.#unpaced = true
      this.#refusedAlone = false
      const writtenAt = this.#clock.now()
      const exchange: Exchange = {
        asked: ours,
        writtenAt,
        sentAt: writtenAt + wireMs(this.#timing, ours.frame.length),
        received: new ReceivedBytes(3 * longestFrame),
        refusedEarly: false,
        settle: (outcome) => {
          cancel()
          this.#exchange = undefined
          resolve(outcome)
        },
      }
      this.#exchange = exchange
      const cancel = this.#clock.after(waitMs, () => this.#giveUp(exchange, answerWithinMs))
      this.#write(ours.frame)
    })
  }

  #write(frame: Uint8Array): number {
    const at = this.#clock.now()
    this.#tap({ at, direction: 'sent', bytes: frame })
    if (!this.#unpaced) this.#lastByteAt = at + wireMs(this.#timing, frame.length)
    this.#kept?.current?.write(frame)
    return at
  }

  #onBytes(bytes: Uint8Array): void {
    const at = this.#clock.now()
    this.#lastByteAt = this.#unpaced ? at : Math.max(this.#lastByteAt, at)
    const exchange = this.#exchange
    if (!exchange) {
      this.#onIdleBytes(bytes, at)
      return
    }
    exchange.received.push(bytes, at)
    const found = findAnswer(exchange.asked, exchange.received.bytes, this.#echo)
    if (!found) return
    if (this.#isTooEarly(exchange, found)) this.#refuseEarly(exchange, found, at)
    else this.#answer(exchange, found, at)
  }

  /** Before our request can have left the wire only an answer to an earlier one can begin. */
  #isTooEarly({ received, sentAt }: Exchange, found: Found): boolean {
    const early = received.timeOf(found.from) < sentAt
    if (early && !this.#owedIn(received.bytes.slice(found.from, found.to))) this.#unpaced = true
    return early && !this.#unpaced
  }

  /** The earlier request to which these bytes hold the answer. */
  #owedIn(bytes: Uint8Array): Asked | undefined {
    return [...this.#owed.values()].find((earlier) => findAnswer(earlier, bytes, 'no'))
  }

  #refuseEarly(exchange: Exchange, found: Found, at: number): void {
    const { received } = exchange
    exchange.refusedEarly = true
    this.#owed.clear()
    this.#tap({ at, direction: 'received', bytes: received.bytes.slice(0, found.to), note: 'late answer to an earlier request, not taken' })
    received.drop(found.to)
  }

  #answer(exchange: Exchange, found: Found, at: number): void {
    const { bytes } = exchange.received
    if (!echoPasses(exchange.asked)) this.#echo = found.echo ? 'yes' : 'no'
    const before = bytes.slice(found.echo ? exchange.asked.frame.length : 0, found.from)
    const notes = [
      ...(found.echo ? ['local echo of the request'] : []),
      ...(before.length > 0 ? [`after ${before.length} other bytes`] : []),
    ]
    const odd = [...(found.echo ? ['echo' as const] : []), ...(before.length > 0 ? ['stray' as const] : [])]
    const note = notes.length > 0 ? { note: notes.join(', ') } : {}
    this.#tap({ at, direction: 'received', bytes: bytes.slice(0, found.to), ...(odd.length > 0 ? { odd } : {}), ...note })
    this.#owed.clear()
    const { content } = found
    const tookMs = at - exchange.writtenAt
    const onWireMs = this.#unpaced ? 0 : wireMs(this.#timing, exchange.asked.frame.length + found.to - found.from)
    exchange.settle(content.ok ? ok({ ...content.value, at, tookMs, ownMs: Math.max(0, tookMs - onWireMs) }) : content)
    if (before.length > 0) this.#unasked(before)
    if (found.to < bytes.length) this.#onIdleBytes(bytes.slice(found.to), at)
  }

  #giveUp(exchange: Exchange, answerWithinMs: number): void {
    const now = this.#clock.now()
    const { bytes } = exchange.received
    const { failure, rest, echoOnly } = judgeSilence(exchange.asked, bytes, this.#echo, now - exchange.writtenAt)
    const note = echoOnly ? 'local echo of the request, no answer' : 'no sound answer'
    const odd = echoOnly ? { odd: ['echo' as const] } : {}
    if (bytes.length > 0) this.#tap({ at: exchange.received.timeOf(bytes.length - 1), direction: 'received', bytes, note, ...odd })
    this.#owed.set(exchange.asked.unit, exchange.asked)
    this.#refusedAlone = exchange.refusedEarly && rest.length === 0
    this.#quietUntil = now + this.#quarantine * answerWithinMs
    if (rest.length > 0) this.#idle.push(rest, now)
    exchange.settle(fail(failure))
    if (rest.length > 0) this.#unasked(rest)
  }

  #onIdleBytes(bytes: Uint8Array, at: number): void {
    this.#idle.push(bytes, at)
    const late = [...this.#owed.values()].some((earlier) => findAnswer(earlier, this.#idle.bytes, this.#echo))
    this.#refusedAlone = false
    if (late) {
      // The answer owed has come: nothing more to wait for than the silence after it.
      this.#owed.clear()
      this.#quietUntil = at
      this.#endQuarantine()
      this.#idle.clear()
    }
    const note = late ? 'late answer to an earlier request' : 'nothing was asked'
    this.#tap({ at, direction: 'received', bytes, note, ...(late ? {} : { odd: ['stray'] }) })
    this.#unasked(bytes)
  }

  #unasked(bytes: Uint8Array): void {
    for (const listener of [...this.#unaskedListeners]) listener(bytes)
  }

  #tap(frame: TappedFrame): void {
    for (const listener of [...this.#tapListeners]) listener(frame)
  }

  #down(): BusFailure | undefined {
    const { state } = this
    if (state.kind === 'open') return undefined
    return { kind: 'link-down', why: state.kind === 'down' ? state.why : 'it was closed' }
  }
}
