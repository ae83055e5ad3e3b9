import type { SerialFormat } from '../app/profile/schema.ts'
import type { OtherMaster } from './description.ts'
import type { Overheard, Responder } from './line.ts'
import { rtuFrame } from './modbus/crc.ts'

/** Two registers from 0. */
const question = Uint8Array.of(3, 0, 0, 0, 2)

/**
 * Polls one unit again and again, whoever else is on the line. A unit that the bench does not have is thought of: it answers
 * with a counting number. `say` puts the exchange on the line and gives the milliseconds that it takes there.
 */
export const startOtherMaster = (
  { unit, everyMs }: OtherMaster,
  stations: readonly Responder[],
  format: SerialFormat | undefined,
  say: (exchange: Overheard) => number,
): { close(): void } => {
  let polls = 0
  let timer: NodeJS.Timeout
  const poll = () => {
    polls += 1
    const station = stations.find((s) => s.unit === unit)
    const imagined = { pdu: Uint8Array.of(3, 4, 0, 0, (polls >> 8) & 0xff, polls & 0xff), sent: () => {} }
    const reply = station ? station.hear(question, false) : imagined
    const takesMs = say({
      request: rtuFrame(unit, question),
      answer: reply && rtuFrame(unit, reply.pdu),
      format,
      sent: reply?.sent,
    })
    timer = setTimeout(poll, Math.max(everyMs, takesMs))
  }
  timer = setTimeout(poll, everyMs)
  return { close: () => clearTimeout(timer) }
}
