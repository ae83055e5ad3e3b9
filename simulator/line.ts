import { rtuFrame } from './modbus/crc.ts'
import { mbapFrame, mbapReceiver } from './modbus/mbap-receiver.ts'
import { rtuReceiver } from './modbus/rtu-receiver.ts'
import type { Station, WireFault } from './station.ts'
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
export type Responder = Pick<Station, 'unit' | 'hear'>

const withWrongCrc = (frame: Uint8Array): Uint8Array => frame.map((byte, i) => (i === frame.length - 1 ? byte ^ 0x55 : byte))
const foreign = (unit: number): number => (unit % 247) + 1

export type LineTiming = {
  /** Time of one character; 0 where the wire has no speed of its own. */
  characterMs: number
  /** Silence after which an unfinished frame is dropped. */
  silenceMs: number
}

/**
 * Units on a wire that carries RTU frames. A request to address 0 is carried out by all and answered by none;
 * wrong CRC and other addresses meet silence.
 */
export const serveRtu = (
  wire: Wire,
  stations: readonly Responder[],
  connected: () => boolean,
  timing: LineTiming,
): { close(): void; disturb(bytes: Uint8Array): void } => {
  const sender = transmitter((bytes) => {
    if (connected()) wire.write(bytes)
  }, timing.characterMs)
  const receiver = rtuReceiver({
    silenceMs: timing.silenceMs,
    onFrame({ unit, pdu }) {
      const heard = stations.filter((station) => unit === 0 || station.unit === unit)
      for (const station of heard) {
        const reply = station.hear(pdu, unit === 0)
        if (reply === undefined) continue
        const { fault } = reply
        const request = rtuFrame(unit, pdu)
        const good = rtuFrame(fault?.kind === 'foreign-unit' ? foreign(unit) : unit, reply.pdu)
        const frame = fault?.kind === 'wrong-crc' ? withWrongCrc(good) : good
        // The bytes of the request came at once; on a wire they would have taken their time.
        sender.send(impaired(fault, frame, request), request.length * timing.characterMs + reply.delayMs)
      }
    },
  })
  wire.onBytes((bytes) => {
    if (connected()) receiver.take(bytes)
    else receiver.clear()
  })
  return {
    /** Bytes on the line from nobody we know. */
    disturb: (bytes) => sender.send(bytes, 0),
    close() {
      receiver.close()
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
      const answered = fault?.kind === 'wrong-crc' ? transaction ^ 0x5555 : transaction
      const frame = mbapFrame(answered, fault?.kind === 'foreign-unit' ? foreign(unit) : unit, reply.pdu)
      sender.send(impaired(fault, frame, mbapFrame(transaction, unit, pdu)), reply.delayMs)
    },
  })
  wire.onBytes((bytes) => {
    if (connected()) receiver.take(bytes)
  })
  return { close: () => sender.close() }
}
