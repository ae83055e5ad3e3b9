import modbusSerial from 'modbus-serial'
import { ok, type Result } from '../../app/result.ts'
import type { BusClock } from './bus-clock.ts'
import type { Closable } from './keep-open.ts'
import { onlyReads } from './pdu.ts'
import type { Request } from './request.ts'
import { connectSocket, watchSocket } from './tcp-socket.ts'

/** Small gateways have few sockets: one that nobody uses is given back after this long, in ms. Common practice, no source. */
const idleMs = 30_000
/** A connection unused for this long may be one that the other end is just giving up, in ms. Common practice, no source. */
const restedMs = 1_000

/** What this program uses of the library. Its own types lack the second argument of FC17 and the raw frames. */
type Library = {
  setID(unit: number): void
  setTimeout(ms: number): void
  isDebugEnabled: boolean
  linkTCP(socket: unknown, options: object): Promise<void>
  on(event: 'error', listener: () => void): void
  writeFC43(unit: number, code: number, object: number, next: (problem: null, value: { data: object }) => void): void
  readCoils(address: number, count: number): Promise<Raw>
  readDiscreteInputs(address: number, count: number): Promise<Raw>
  readHoldingRegisters(address: number, count: number): Promise<Raw>
  readInputRegisters(address: number, count: number): Promise<Raw>
  writeCoil(address: number, on: boolean): Promise<Raw>
  writeRegister(address: number, word: number): Promise<Raw>
  writeCoils(address: number, on: boolean[]): Promise<Raw>
  writeRegisters(address: number, words: number[]): Promise<Raw>
  maskWriteRegister(address: number, and: number, or: number): Promise<Raw>
  reportServerID(unused: number, alsoUnused: number): Promise<Raw>
  readDeviceIdentification(code: number, object: number): Promise<Raw>
}
type Raw = { responses?: Uint8Array[] }

/** Under one resolution of modules the import is the class, under the other it has the class as `default`; at run time it is both. */
const ModbusRTU = modbusSerial as unknown as new () => Library

/** Answers as the library received them: unit, function and data, and a CRC that it adds for itself. */
export type RawAnswer =
  | { kind: 'frame'; frame: Uint8Array }
  | { kind: 'timed-out' }
  | { kind: 'trouble'; why: string }
  /** The connection ended before an answer came. */
  | { kind: 'lost'; why: string }

export type ModbusTcpClient = Closable & {
  /** Opens the socket again where this end or the other gave it back while idle. */
  ready(): Promise<Result<null, string>>
  ask(unit: number, request: Request, withinMs: number): Promise<RawAnswer>
}

/** A Modbus TCP connection. The protocol numbers its requests, so a late answer is never taken for another. */
export async function connectModbusTcp(host: string, port: number, clock: BusClock): Promise<Result<ModbusTcpClient, string>> {
  const client = new Client(host, port, clock)
  const ready = await client.ready()
  return ready.ok ? ok(client) : ready
}

type Connection = { library: Library; usedAt: number; hasAnswered: boolean; close(): Promise<void> }

class Client implements ModbusTcpClient {
  readonly #host: string
  readonly #port: number
  readonly #clock: BusClock
  readonly #listeners: ((why: string) => void)[] = []
  #connection: Connection | undefined
  #cancelIdle = () => {}
  /** Settles the request under way; the library leaves it pending when its socket closes. */
  #settleLost: ((why: string) => void) | undefined

  constructor(host: string, port: number, clock: BusClock) {
    this.#host = host
    this.#port = port
    this.#clock = clock
  }

  onClose(listener: (why: string) => void): void {
    this.#listeners.push(listener)
  }

  async close(): Promise<void> {
    this.#cancelIdle()
    const last = this.#connection
    this.#connection = undefined
    this.#settleLost?.('it was closed')
    await last?.close()
  }

  async ready(): Promise<Result<null, string>> {
    this.#cancelIdle()
    if (this.#connection) return ok(null)
    const connected = await connectSocket(this.#host, this.#port)
    if (!connected.ok) {
      this.#lost(connected.failure)
      return connected
    }
    const { onLost, close } = watchSocket(connected.value, `${this.#host}:${this.#port}`)
    const library = new ModbusRTU()
    // An 'error' that nobody listens to would end the program.
    library.on('error', () => {})
    // Keeps the raw frame beside each answer, which says more than the parsed one: byte count, echoed value, object list.
    library.isDebugEnabled = true
    // The library would go on asking for further objects by itself, beyond the deadline, and fails on a time-out there.
    library.writeFC43 = (_unit, _code, _object, next) => next(null, { data: {} })
    await library.linkTCP(connected.value, {})
    const connection: Connection = { library, close, usedAt: this.#clock.now(), hasAnswered: false }
    this.#connection = connection
    onLost((why) => {
      if (this.#connection !== connection) return
      this.#connection = undefined
      // Given back by the other end while nobody asks: no loss, the next request opens it again.
      this.#settleLost?.(connection.hasAnswered ? why : `${why} Its few sockets may be taken by another program.`)
    })
    this.#restWhenIdle()
    return ok(null)
  }

  async ask(unit: number, request: Request, withinMs: number): Promise<RawAnswer> {
    const askedAt = this.#clock.now()
    const rested = this.#connection !== undefined && askedAt - this.#connection.usedAt > restedMs
    let raw = await this.#askOnce(unit, request, withinMs)
    if (raw.kind === 'lost' && rested && onlyReads(request)) {
      const ready = await this.ready()
      if (!ready.ok) return { kind: 'lost', why: ready.failure }
      raw = await this.#askOnce(unit, request, Math.max(1, withinMs - (this.#clock.now() - askedAt)))
    }
    if (raw.kind === 'lost') this.#lost(raw.why)
    return raw
  }

  async #askOnce(unit: number, request: Request, withinMs: number): Promise<RawAnswer> {
    const connection = this.#connection
    if (!connection) return { kind: 'lost', why: 'the connection is closed' }
    this.#cancelIdle()
    connection.library.setID(unit)
    connection.library.setTimeout(withinMs)
    const raw = await new Promise<RawAnswer>((settle) => {
      this.#settleLost = (why) => settle({ kind: 'lost', why })
      void answerOf(connection.library, request).then(settle)
    })
    this.#settleLost = undefined
    connection.usedAt = this.#clock.now()
    connection.hasAnswered ||= raw.kind === 'frame'
    this.#restWhenIdle()
    return raw
  }

  #lost(why: string): void {
    for (const listener of this.#listeners) listener(why)
  }

  #restWhenIdle(): void {
    this.#cancelIdle()
    if (!this.#connection) return
    this.#cancelIdle = this.#clock.after(idleMs, () => void this.close())
  }
}

async function answerOf(library: Library, request: Request): Promise<RawAnswer> {
  try {
    return frameOf((await call(library, request)).responses) ?? { kind: 'trouble', why: 'an answer without bytes' }
  } catch (cause) {
    return rawFailure(cause)
  }
}

function call(library: Library, request: Request): Promise<Raw> {
  switch (request.kind) {
    case 'read-registers':
      return request.table === 'holding'
        ? library.readHoldingRegisters(request.address, request.count)
        : library.readInputRegisters(request.address, request.count)
    case 'read-bits':
      return request.table === 'coil'
        ? library.readCoils(request.address, request.count)
        : library.readDiscreteInputs(request.address, request.count)
    case 'write-register':
      return library.writeRegister(request.address, request.word)
    case 'write-registers':
      return library.writeRegisters(request.address, [...request.words])
    case 'write-coil':
      return library.writeCoil(request.address, request.on)
    case 'write-coils':
      return library.writeCoils(request.address, [...request.on])
    case 'mask-write':
      return library.maskWriteRegister(request.address, request.and, request.or)
    case 'server-id':
      // With fewer than two arguments it never settles.
      return library.reportServerID(0, 0)
    case 'device-identification':
      return library.readDeviceIdentification(request.code, request.object)
  }
}

function frameOf(responses: unknown): RawAnswer | undefined {
  const last: unknown = Array.isArray(responses) ? responses.at(-1) : undefined
  return last instanceof Uint8Array ? { kind: 'frame', frame: Uint8Array.from(last) } : undefined
}

/** The library's time-outs are no Errors; they are known by name or number. */
function rawFailure(cause: unknown): RawAnswer {
  const facts = (typeof cause === 'object' && cause !== null ? cause : {}) as {
    name?: unknown
    errno?: unknown
    message?: unknown
    modbusResponses?: unknown
  }
  if (facts.name === 'TransactionTimedOutError' || facts.errno === 'ETIMEDOUT') return { kind: 'timed-out' }
  return frameOf(facts.modbusResponses) ?? { kind: 'trouble', why: String(facts.message ?? cause) }
}
