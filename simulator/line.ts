import type { SerialFormat } from '../app/profile/schema.ts'
import type { LineConditions } from './description.ts'
import { rtuFrame } from './modbus/crc.ts'
import { mbapFrame, mbapReceiver } from './modbus/mbap-receiver.ts'
import { rtuReceiver } from './modbus/rtu-receiver.ts'
import type { Station, WireFault } from './station.ts'
import { asHeard } from './wire/serial-bits.ts'
import { transmitter } from './wire/transmitter.ts'
import type { Wire } from './wire/wire.ts'

const join = (...parts: readonly (Uint8Array | readonly number[])[]): Uint8Array => Uint8Array.from(parts.flatMap((part) => [...part]))

/** Bytes that leave the unit in place of its answer `frame`. */
const impaired = (fault: WireFault | undefined, frame: Uint8Array, request: Uint8Array): Uint8Array => {
  switch (fault?.kind) {
    case 'truncated':
      return frame.slice(0, Math.ceil(frame.length / 2))
    case 'twice':
      return join(frame, frame)
    case 'echo':
      return join(request, frame)
    case 'noise':
      return join(fault.bytes, frame)
    default:
      return frame
  }
}

/** What a line needs to know of a station. */
export type Responder = Pick<Station, 'unit' | 'hear'> & Partial<Pick<Station, 'format' | 'formatAtStart'>>

const withWrongCrc = (frame: Uint8Array): Uint8Array => frame.map((byte, i) => (i === frame.length - 1 ? byte ^ 0x55 : byte))
const foreign = (unit: number): number => (unit % 247) + 1

export type LineTiming = {
  /** Time of one character; 0 where the wire has no speed of its own. */
  characterMs: number
  /** Silence after which an unfinished frame is dropped. */
  silenceMs: number
}

/** Another master's exchange, in the format that it speaks. */
export type Overheard = {
  request: Uint8Array
  answer: Uint8Array | undefined
  format: SerialFormat | undefined
  sent: (() => void) | undefined
}

export type RtuLine = {
  /** Bytes on the line from nobody we know. */
  disturb(bytes: Uint8Array): void
  /** Puts another master's exchange on the line; gives the milliseconds that it takes. Requests that come meanwhile collide. */
  overhear(exchange: Overheard): number
  close(): void
}

const answerPauseMs = 5

/**
 * Units on a wire that carries RTU frames. A request to address 0 is carried out by all and answered by none;
 * wrong CRC and other addresses meet silence.
 */
export const serveRtu = (
  wire: Wire,
  stations: readonly Responder[],
  connected: () => boolean,
  timing: LineTiming,
  conditions: () => LineConditions = () => ({}),
): RtuLine => {
  const sender = transmitter((bytes) => {
    if (connected()) wire.write(bytes)
  }, timing.characterMs)
  let occupiedUntil = Number.NEGATIVE_INFINITY
  const { characterMs } = timing

  const answer = (station: Responder, unit: number, pdu: Uint8Array) => {
    const formatThen = station.format?.()
    const reply = station.hear(pdu, unit === 0)
    if (reply === undefined) return
    const { fault } = reply
    if (fault?.kind === 'hangs-up') return void wire.close()
    const request = rtuFrame(unit, pdu)
    const good = rtuFrame(fault?.kind === 'foreign-unit' ? foreign(unit) : unit, reply.pdu)
    const frame = fault?.kind === 'wrong-crc' ? withWrongCrc(good) : good
    const spoken = toMaster(impaired(fault, frame, request), formatThen, station.formatAtStart)
    // The bytes of the request came at once; on a wire they would have taken their time.
    const afterMs = request.length * characterMs + reply.delayMs
    sender.send(spoken, afterMs, reply.sent)
    const { noise } = conditions()
    if (noise) sender.send(Uint8Array.from(noise.bytes), afterMs + spoken.length * characterMs + noise.afterMs)
  }

  const toMaster = (bytes: Uint8Array, spoken: SerialFormat | undefined, otherwise: SerialFormat | undefined): Uint8Array => {
    const master = conditions().masterFormat ?? otherwise
    return spoken && master ? asHeard(bytes, spoken, master) : bytes
  }

  const ears = stations.map((station) => {
    const receiver = rtuReceiver({
      silenceMs: timing.silenceMs,
      onFrame({ unit, pdu }) {
        if (unit === 0 || station.unit === unit) answer(station, unit, pdu)
      },
    })
    return {
      receiver,
      take(bytes: Uint8Array) {
        const own = station.format?.()
        const master = conditions().masterFormat ?? station.formatAtStart
        receiver.take(own && master ? asHeard(bytes, master, own) : bytes)
      },
    }
  })
  wire.onBytes((bytes) => {
    if (connected() && conditions().echo) sender.send(bytes, 0)
    const collides = performance.now() < occupiedUntil
    for (const ear of ears) {
      if (connected() && !collides) ear.take(bytes)
      else ear.receiver.clear()
    }
  })
  return {
    disturb: (bytes) => sender.send(bytes, 0),
    overhear({ request, answer: said, format, sent }) {
      const requestMs = request.length * characterMs + answerPauseMs
      sender.send(toMaster(request, format, format), 0)
      if (said) sender.send(toMaster(said, format, format), requestMs, sent)
      const takesMs = requestMs + (said?.length ?? 0) * characterMs
      occupiedUntil = performance.now() + takesMs
      for (const ear of ears) ear.receiver.clear()
      return takesMs
    },
    close() {
      for (const ear of ears) ear.receiver.close()
      sender.close()
    },
  }
}

/**
 * Units behind a Modbus TCP connection. A bus with one indicator is that indicator itself: it answers its own unit number
 * and 0 and 255. With several it is a gateway: exception 0B for a unit that is not there or does not answer, 0 is broadcast.
 */
export const serveMbap = (wire: Wire, stations: readonly Responder[], connected: () => boolean): { close(): void } => {
  const sender = transmitter((bytes) => {
    if (connected()) wire.write(bytes)
  }, 0)
  const gateway = stations.length > 1
  const answers = (station: Responder, unit: number) => station.unit === unit || (!gateway && (unit === 0 || unit === 255))
  const receiver = mbapReceiver({
    onBroken: () => void wire.close(),
    onRequest({ transaction, unit, pdu }) {
      if (gateway && unit === 0) {
        for (const station of stations) station.hear(pdu, true)
        return
      }
      const station = stations.find((s) => answers(s, unit))
      const reply = station?.hear(pdu, false)
      if (reply === undefined) {
        if (gateway) sender.send(mbapFrame(transaction, unit, Uint8Array.of((pdu[0] ?? 0) | 0x80, 0x0b)), 0)
        return
      }
      const { fault } = reply
      if (fault?.kind === 'hangs-up') return void wire.close()
      const answered = fault?.kind === 'wrong-crc' ? transaction ^ 0x5555 : transaction
      const frame = mbapFrame(answered, fault?.kind === 'foreign-unit' ? foreign(unit) : unit, reply.pdu)
      sender.send(impaired(fault, frame, mbapFrame(transaction, unit, pdu)), reply.delayMs, reply.sent)
    },
  })
  wire.onBytes((bytes) => {
    if (connected()) receiver.take(bytes)
  })
  return { close: () => sender.close() }
}
