import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Result } from '../../app/result.ts'
import { hasRightCrc } from './crc.ts'
import { hex } from './hex.ts'
import type { Request } from './request.ts'
import { type AnswerContent, answerLength, encodeRequest, parseAnswer } from './rtu-frame.ts'

/** One request on the line: what a sound answer to it has to agree with. */
export type Asked = { unit: number; request: Request; frame: Uint8Array }
/** Whether the line gives our own bytes back; learned from reads, whose answer cannot be mistaken for their echo. */
export type Echo = 'unknown' | 'yes' | 'no'
/** A sound answer or exception from `from` to `to` in the bytes searched. */
export type Found = { from: number; to: number; echo: boolean; content: Result<AnswerContent, BusFailure> }

export const asked = (unit: number, request: Request): Asked => ({ unit, request, frame: encodeRequest(unit, request) })

/** True where the echo of a request would pass as its answer: FC05, FC06, FC22, and FC01/02 of 17 to 24 bits at 0x03xx. */
export const echoPasses = ({ unit, request, frame }: Asked): boolean => parseAnswer(unit, request, frame).ok

/**
 * The first whole answer with right CRC, wherever it begins: a turn-around glitch or a foreign frame may precede it.
 * Where an echo would pass as the answer, the first copy counts as the echo unless the line is known to have none.
 */
export function findAnswer(wanted: Asked, bytes: Uint8Array, line: Echo): Found | undefined {
  const echoAt = indexOf(bytes, wanted.frame)
  const skip = echoAt >= 0 && (!echoPasses(wanted) || line !== 'no') ? echoAt + wanted.frame.length : 0
  for (let from = skip; from < bytes.length; from++) {
    const length = answerLength(wanted.unit, wanted.request, bytes, from)
    if (typeof length !== 'number' || from + length > bytes.length) continue
    const content = parseAnswer(wanted.unit, wanted.request, bytes.slice(from, from + length))
    if (content.ok || content.failure.kind === 'refused') return { from, to: from + length, echo: skip > 0, content }
  }
  return undefined
}

/** Why the bytes that came until the deadline are no answer. `echoOnly` where they are nothing but our own. */
export function judgeSilence(
  wanted: Asked,
  bytes: Uint8Array,
  line: Echo,
  waitedMs: number,
): { failure: BusFailure; rest: Uint8Array; echoOnly: boolean } {
  const startsWithEcho = indexOf(bytes, wanted.frame) === 0
  const rest = startsWithEcho ? bytes.slice(wanted.frame.length) : bytes
  // One copy on a line of unknown habit may be echo or answer; neither is claimed.
  const undecided = startsWithEcho && echoPasses(wanted) && line === 'unknown'
  if (rest.length === 0 && !undecided) return { failure: { kind: 'no-reply', waitedMs, tries: 1 }, rest, echoOnly: startsWithEcho }
  const shown = hex(rest.length > 0 ? rest : bytes)
  return { failure: { kind: beginsWithFrame(rest) ? 'foreign' : 'garbled', bytes: shown }, rest, echoOnly: false }
}

function beginsWithFrame(bytes: Uint8Array): boolean {
  for (let length = 4; length <= Math.min(bytes.length, 256); length++) if (hasRightCrc(bytes, 0, length)) return true
  return false
}

export function indexOf(bytes: Uint8Array, wanted: Uint8Array): number {
  for (let from = 0; from + wanted.length <= bytes.length; from++) if (wanted.every((byte, i) => bytes[from + i] === byte)) return from
  return -1
}
