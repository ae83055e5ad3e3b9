import { z } from 'zod'

/** Everything that can go wrong with one request on a bus. */
export const busFailure = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('no-reply'), waitedMs: z.number(), tries: z.int() }),
  /** Bytes came, but no whole frame with a right CRC before the deadline. */
  z.strictObject({ kind: z.literal('garbled'), bytes: z.string() }),
  /** A whole frame that does not answer the request: other unit, function or length. */
  z.strictObject({ kind: z.literal('foreign'), bytes: z.string() }),
  z.strictObject({ kind: z.literal('refused'), code: z.int() }),
  z.strictObject({ kind: z.literal('link-down'), why: z.string() }),
  z.strictObject({ kind: z.literal('stopped') }),
  z.strictObject({ kind: z.literal('other-master'), bytes: z.string() }),
  /** The indicator is set aside after silence and is not probed yet. */
  z.strictObject({ kind: z.literal('set-aside'), nextProbeInMs: z.number() }),
])
export type BusFailure = z.infer<typeof busFailure>

const exceptionMeaning: Record<number, string> = {
  1: 'it does not know this function',
  2: 'it has no such register',
  3: 'it does not accept this value',
  4: 'it failed while doing it',
  5: 'it needs longer and has only acknowledged',
  6: 'it is busy; try again shortly',
  8: 'its memory failed a parity check',
}

/**
 * A gateway speaks for a unit that does not: path unavailable (10), target failed to respond (11).
 * Source: MODBUS Application Protocol V1.1b3, section 7.
 */
const gatewayMeaning: Record<number, string> = {
  10: 'has no path to this unit (Modbus exception 10). Is the unit address set up in the gateway?',
  11: "got no answer from this unit (Modbus exception 11). Check the unit's power, wiring and address, and the gateway's line format.",
}

/** Whether the answer came from a gateway in the place of the unit, which itself is silent. */
export const isFromGateway = (failure: BusFailure): boolean => failure.kind === 'refused' && failure.code in gatewayMeaning

/** One sentence for people: what happened and what to look at next. */
export function explainBusFailure(failure: BusFailure): string {
  switch (failure.kind) {
    case 'no-reply':
      return `No answer in ${Math.round(failure.waitedMs)} ms, ${failure.tries} ${failure.tries === 1 ? 'try' : 'tries'}. Check power, wiring, baud, parity and unit address.`
    case 'garbled':
      return `Bytes came but no sound answer (${failure.bytes}). Check baud and parity, termination and screening, and whether two units share an address.`
    case 'foreign':
      return `Another answer than the one asked for came (${failure.bytes}). Check for a second unit with this address or a second master.`
    case 'refused':
      if (isFromGateway(failure)) return `The gateway ${gatewayMeaning[failure.code]}`
      return `The indicator refused the request: ${exceptionMeaning[failure.code] ?? 'for a reason of its own'} (Modbus exception ${failure.code}).`
    case 'link-down':
      return `The link is down: ${failure.why}`
    case 'stopped':
      return 'Sending is stopped. Nothing was sent.'
    case 'other-master':
      return `Another master is sending on this bus: it asks ${askedText(failure.bytes)}. Sending has halted; disconnect one of the two.`
    case 'set-aside':
      return `The indicator has not answered and is set aside; it is tried again in ${Math.ceil(failure.nextProbeInMs / 1000)} s.`
  }
}

/** Whom a request asks, and how. Source: MODBUS over Serial Line V1.02, 2.2: address 0 is everybody. */
function askedText(bytes: string): string {
  const [unit = 0, code = 0] = bytes.split(' ').map((byte) => Number.parseInt(byte, 16))
  return `${unit === 0 ? 'all units' : `unit ${unit}`} with function ${code}`
}
