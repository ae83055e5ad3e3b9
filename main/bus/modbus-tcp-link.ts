import modbusSerial from 'modbus-serial'
import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { BusClock } from './bus-clock.ts'
import { type Closable, type Kept, keepOpen } from './keep-open.ts'
import { encodePdu } from './pdu.ts'
import type { Answer, Link, Outcome, Request, TappedFrame } from './request.ts'
import { explainConnecting } from './tcp-stream.ts'

// A CommonJS module: Node's default import is its exports object, which holds the class as `default`.
const ModbusRTU = modbusSerial.default
type Client = InstanceType<typeof ModbusRTU>
type ServerIdClient = { reportServerID(unit: number, timeout: number): Promise<{ serverId: number; isRunning: boolean; additionalData: Buffer }> }
type OpenClient = Closable & { client: Client }

/** Modbus TCP to an indicator or gateway. The protocol numbers its answers, so late ones cannot be mistaken. */
export async function openModbusTcpLink(host: string, port: number, clock: BusClock): Promise<Result<Link, string>> {
  const kept = await keepOpen(() => connect(host, port), clock, () => {})
  return kept.ok ? ok(link(kept.value, clock)) : kept
}

async function connect(host: string, port: number): Promise<Result<OpenClient, string>> {
  const client = new ModbusRTU()
  try {
    await client.connectTCP(host, { port })
  } catch (cause) {
    client.close(() => {})
    return fail(explainConnecting(`${host}:${port}`, cause instanceof Error ? cause : new Error(String(cause))))
  }
  let asked = false
  return ok({
    client,
    onClose(listener) {
      client.on('close', () => {
        if (!asked) listener(`${host}:${port} closed the connection.`)
      })
    },
    close: () =>
      new Promise((done) => {
        asked = true
        client.close(() => done())
      }),
  })
}

function link(kept: Kept<OpenClient>, clock: BusClock): Link {
  const taps = new Set<(frame: TappedFrame) => void>()
  const tap = (direction: 'sent' | 'received', unit: number, pdu: Uint8Array, note?: string) => {
    for (const listener of taps) listener({ at: clock.now(), direction, bytes: Uint8Array.of(unit, ...pdu), note: note ?? 'Modbus TCP: unit and PDU, without the header' })
  }
  return {
    get state() {
      return kept.state
    },
    onState: (listener) => kept.onState(listener),
    onUnasked: () => () => {},
    onTap(listener) {
      taps.add(listener)
      return () => taps.delete(listener)
    },
    close: () => kept.close(),
    async transact(unit, request, answerWithinMs): Promise<Outcome> {
      const { state } = kept
      const client = kept.current?.client
      if (state.kind !== 'open' || !client) return fail({ kind: 'link-down', why: state.kind === 'down' ? state.why : 'the link is closed' })
      const sentAt = clock.now()
      tap('sent', unit, encodePdu(request))
      client.setID(unit)
      client.setTimeout(answerWithinMs)
      // The library leaves a request pending when its socket closes, so the loss is watched for here.
      const outcome = await new Promise<Outcome>((settle) => {
        const unwatch = kept.onState((s) => {
          if (s.kind !== 'open') settle(fail({ kind: 'link-down', why: s.kind === 'down' ? s.why : 'the link was closed' }))
        })
        call(client, request)
          .then((content) => settle(ok({ ...content, at: clock.now(), tookMs: clock.now() - sentAt } as Answer)))
          .catch((cause: unknown) => settle(fail(failureOf(cause, answerWithinMs))))
          .finally(unwatch)
      })
      tap('received', unit, new Uint8Array(0), outcome.ok ? `answered: ${outcome.value.kind}` : outcome.failure.kind)
      return outcome
    },
  }
}

type Content = Answer extends infer A ? (A extends unknown ? Omit<A, 'at' | 'tookMs'> : never) : never

async function call(client: Client, request: Request): Promise<Content> {
  switch (request.kind) {
    case 'read-registers': {
      const { data } = await (request.table === 'holding' ? client.readHoldingRegisters(request.address, request.count) : client.readInputRegisters(request.address, request.count))
      return { kind: 'words', words: data }
    }
    case 'read-bits': {
      const { data } = await (request.table === 'coil' ? client.readCoils(request.address, request.count) : client.readDiscreteInputs(request.address, request.count))
      // The library pads to whole bytes.
      return { kind: 'bits', bits: data.slice(0, request.count) }
    }
    case 'write-register':
      await client.writeRegister(request.address, request.word)
      return { kind: 'done' }
    case 'write-registers':
      await client.writeRegisters(request.address, [...request.words])
      return { kind: 'done' }
    case 'write-coil':
      await client.writeCoil(request.address, request.on)
      return { kind: 'done' }
    case 'write-coils':
      await client.writeCoils(request.address, [...request.on])
      return { kind: 'done' }
    case 'mask-write':
      await client.maskWriteRegister(request.address, request.and, request.or)
      return { kind: 'done' }
    case 'server-id': {
      // Its typings leave out the second argument, without which it never settles.
      const { additionalData, serverId, isRunning } = await (client as unknown as ServerIdClient).reportServerID(0, 0)
      return { kind: 'bytes', bytes: Uint8Array.of(serverId, isRunning ? 0xff : 0, ...additionalData) }
    }
    case 'device-identification': {
      const { data } = await client.readDeviceIdentification(request.code, request.object)
      const objects = (data as string[]).flatMap((text, id) => (text === undefined ? [] : [{ id, text }]))
      return { kind: 'objects', objects, more: false, next: 0 }
    }
  }
}

/** The library's time-outs are no Errors; they are known by name or number. */
function failureOf(cause: unknown, waitedMs: number): BusFailure {
  const facts = (typeof cause === 'object' && cause !== null ? cause : {}) as { modbusCode?: unknown; name?: unknown; errno?: unknown; message?: unknown }
  if (typeof facts.modbusCode === 'number') return { kind: 'refused', code: facts.modbusCode }
  if (facts.name === 'TransactionTimedOutError' || facts.errno === 'ETIMEDOUT') return { kind: 'no-reply', waitedMs, tries: 1 }
  if (facts.name === 'PortNotOpenError') return { kind: 'link-down', why: 'the connection is closed' }
  return { kind: 'garbled', bytes: String(facts.message ?? cause) }
}
