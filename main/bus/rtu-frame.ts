import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { hasRightCrc, withCrc } from './crc.ts'
import { hex } from './hex.ts'
import { encodePdu, functionCode } from './pdu.ts'
import type { Answer, Request } from './request.ts'

/** What an answer says, without the times that only the link knows. */
export type AnswerContent = Answer extends infer A ? (A extends unknown ? Omit<A, 'at' | 'tookMs' | 'ownMs'> : never) : never

/** Longest RTU frame in bytes. Source: MODBUS over Serial Line V1.02, 2.5.1. */
export const longestFrame = 256
const exceptionLength = 5

/** The whole RTU frame of a request: unit, function and data, CRC. */
export function encodeRequest(unit: number, request: Request): Uint8Array {
  if (!Number.isInteger(unit) || unit < 0 || unit > 255) throw new RangeError(`unit ${unit} is not 0 to 255`)
  return withCrc(Uint8Array.of(unit, ...encodePdu(request)))
}

/** Bytes that an answer to this request has at the most, known before anything came. */
export function longestAnswer(request: Request): number {
  switch (request.kind) {
    case 'read-bits':
      return 5 + Math.ceil(request.count / 8)
    case 'read-registers':
      return 5 + 2 * request.count
    case 'mask-write':
      return 10
    case 'write-coil':
    case 'write-register':
    case 'write-coils':
    case 'write-registers':
      return 8
    case 'device-identification':
    case 'server-id':
      return longestFrame
  }
}

/**
 * Length in bytes of the answer that begins at `from`, as far as its first bytes tell:
 * `more` where too few came, `not-ours` where they cannot begin an answer of this unit to this request.
 */
export function answerLength(unit: number, request: Request, bytes: Uint8Array, from = 0): number | 'more' | 'not-ours' {
  const at = (i: number) => bytes[from + i]
  const code = functionCode(request)
  if (at(0) === undefined) return 'more'
  if (at(0) !== unit) return 'not-ours'
  if (at(1) === undefined) return 'more'
  if (at(1) === (code | 0x80)) return exceptionLength
  if (at(1) !== code) return 'not-ours'
  switch (request.kind) {
    case 'read-bits':
    case 'read-registers': {
      const length = longestAnswer(request)
      const count = at(2)
      if (count === undefined) return 'more'
      return count === length - 5 ? length : 'not-ours'
    }
    case 'server-id': {
      const count = at(2)
      return count === undefined ? 'more' : fits(5 + count)
    }
    case 'device-identification':
      return identificationLength(bytes, from)
    case 'write-coil':
    case 'write-register':
    case 'write-coils':
    case 'write-registers':
    case 'mask-write':
      return longestAnswer(request)
  }
}

const fits = (length: number): number | 'not-ours' => (length <= longestFrame ? length : 'not-ours')

function identificationLength(bytes: Uint8Array, from: number): number | 'more' | 'not-ours' {
  const mei = bytes[from + 2]
  const count = bytes[from + 7]
  if (mei !== undefined && mei !== 0x0e) return 'not-ours'
  if (count === undefined) return 'more'
  let end = 8
  for (let i = 0; i < count; i++) {
    const length = bytes[from + end + 1]
    if (length === undefined) return end + 2 > longestFrame ? 'not-ours' : 'more'
    end += 2 + length
  }
  return fits(end + 2)
}

/**
 * One whole frame as the answer to `request`. Failures: `garbled` for a wrong CRC or length, `refused` for an exception,
 * `foreign` where unit, function, byte count or the echoed address, value or quantity differ.
 */
export function parseAnswer(unit: number, request: Request, frame: Uint8Array): Result<AnswerContent, BusFailure> {
  const foreign = () => fail({ kind: 'foreign' as const, bytes: hex(frame) })
  if (!hasRightCrc(frame)) return fail({ kind: 'garbled', bytes: hex(frame) })
  const length = answerLength(unit, request, frame)
  if (length !== frame.length) return foreign()
  if (((frame[1] ?? 0) & 0x80) !== 0) return fail({ kind: 'refused', code: frame[2] ?? 0 })
  switch (request.kind) {
    case 'read-bits':
      return ok({
        kind: 'bits',
        bits: Array.from({ length: request.count }, (_, i) => ((frame[3 + (i >> 3)] ?? 0) & (1 << (i & 7))) !== 0),
      })
    case 'read-registers':
      return ok({ kind: 'words', words: Array.from({ length: request.count }, (_, i) => wordAt(frame, 3 + 2 * i)) })
    case 'write-coil':
    case 'write-register':
    case 'mask-write':
      return frame.every((byte, i) => i >= frame.length - 2 || byte === encodeRequest(unit, request)[i]) ? ok({ kind: 'done' }) : foreign()
    case 'write-coils':
      return wordAt(frame, 2) === request.address && wordAt(frame, 4) === request.on.length ? ok({ kind: 'done' }) : foreign()
    case 'write-registers':
      return wordAt(frame, 2) === request.address && wordAt(frame, 4) === request.words.length ? ok({ kind: 'done' }) : foreign()
    case 'server-id':
      return ok({ kind: 'bytes', bytes: frame.slice(3, -2) })
    case 'device-identification':
      return frame[3] === request.code ? ok(identification(frame)) : foreign()
  }
}

const wordAt = (frame: Uint8Array, at: number): number => ((frame[at] ?? 0) << 8) | (frame[at + 1] ?? 0)

function identification(frame: Uint8Array): AnswerContent {
  const objects: { id: number; text: string }[] = []
  for (let at = 8; at < frame.length - 2; ) {
    const length = frame[at + 1] ?? 0
    objects.push({ id: frame[at] ?? 0, text: String.fromCharCode(...frame.subarray(at + 2, at + 2 + length)) })
    at += 2 + length
  }
  return { kind: 'objects', objects, more: frame[5] === 0xff, next: frame[6] ?? 0 }
}
