import { describe, expect, it } from 'vitest'
import type { Request } from '../../../main/bus/request.ts'
import { answerLength, encodeRequest, parseAnswer } from '../../../main/bus/rtu-frame.ts'
import { bytes, framed } from '../../builders/fake-line.ts'

const bits = (text: string) => Array.from(text.replaceAll(' ', ''), (c) => c === '1')

/**
 * Request and answer of MODBUS Application Protocol V1.1b3, section by section, framed for unit 17;
 * the CRCs of the frames are computed, by the algorithm checked in crc.test.ts.
 */
const published: [section: string, request: Request, sent: string, answered: string, content: object][] = [
  [
    '6.1 read coils 20 to 38',
    { kind: 'read-bits', table: 'coil', address: 0x13, count: 19 },
    '11 01 00 13 00 13 8E 92',
    '11 01 03 CD 6B 05 40 12',
    // 27 to 20: 1100 1101, 35 to 28: 0110 1011, 38 to 36: 101; lowest coil first here.
    { kind: 'bits', bits: bits('10110011 11010110 101') },
  ],
  [
    '6.2 read discrete inputs 197 to 218',
    { kind: 'read-bits', table: 'discrete', address: 0xc4, count: 22 },
    '11 02 00 C4 00 16 BA A9',
    '11 02 03 AC DB 35 20 18',
    // 204 to 197: 1010 1100, 212 to 205: 1101 1011, 218 to 213: 11 0101; lowest input first here.
    { kind: 'bits', bits: bits('00110101 11011011 101011') },
  ],
  [
    '6.3 read holding registers 108 to 110',
    { kind: 'read-registers', table: 'holding', address: 0x6b, count: 3 },
    '11 03 00 6B 00 03 76 87',
    '11 03 06 02 2B 00 00 00 64 C8 BA',
    { kind: 'words', words: [555, 0, 100] },
  ],
  [
    '6.4 read input register 9',
    { kind: 'read-registers', table: 'input', address: 8, count: 1 },
    '11 04 00 08 00 01 B2 98',
    '11 04 02 00 0A F8 F4',
    { kind: 'words', words: [10] },
  ],
  [
    '6.5 write coil 173 on',
    { kind: 'write-coil', address: 0xac, on: true },
    '11 05 00 AC FF 00 4E 8B',
    '11 05 00 AC FF 00 4E 8B',
    { kind: 'done' },
  ],
  [
    '6.6 write register 2',
    { kind: 'write-register', address: 1, word: 3 },
    '11 06 00 01 00 03 9A 9B',
    '11 06 00 01 00 03 9A 9B',
    { kind: 'done' },
  ],
  [
    '6.11 write 10 coils from coil 20',
    { kind: 'write-coils', address: 0x13, on: bits('10110011 10') },
    '11 0F 00 13 00 0A 02 CD 01 BF 0B',
    '11 0F 00 13 00 0A 26 99',
    { kind: 'done' },
  ],
  [
    '6.12 write registers 2 and 3',
    { kind: 'write-registers', address: 1, words: [0x0a, 0x0102] },
    '11 10 00 01 00 02 04 00 0A 01 02 C6 F0',
    '11 10 00 01 00 02 12 98',
    { kind: 'done' },
  ],
  [
    '6.16 mask write register 5',
    { kind: 'mask-write', address: 4, and: 0xf2, or: 0x25 },
    '11 16 00 04 00 F2 00 25 66 E2',
    '11 16 00 04 00 F2 00 25 66 E2',
    { kind: 'done' },
  ],
]

describe('published frames', () => {
  it.each(published)('%s', (_, request, sent, answered, content) => {
    expect(encodeRequest(17, request)).toEqual(bytes(sent))
    expect(answerLength(17, request, bytes(answered))).toBe(bytes(answered).length)
    expect(parseAnswer(17, request, bytes(answered))).toEqual({ ok: true, value: content })
  })

  it('6.21 read device identification: structure as published', () => {
    const request: Request = { kind: 'device-identification', code: 1, object: 0 }
    expect(encodeRequest(17, request)).toEqual(bytes('11 2B 0E 01 00 B1 B4'))
    // Conformity 1, no more follows, 3 objects: 00 "Company", 01 "Product code XX", 02 "V2.11".
    const texts = ['Company', 'Product code XX', 'V2.11']
    const objects = texts.flatMap((text, id) => [id, text.length, ...new TextEncoder().encode(text)])
    const answer = framed(['11 2B 0E 01 01 00 00 03', ...objects.map((b) => b.toString(16))].join(' '))
    for (let n = 2; n < 8; n++) expect(answerLength(17, request, answer.slice(0, n))).toBe('more')
    expect(answerLength(17, request, answer)).toBe(answer.length)
    expect(parseAnswer(17, request, answer)).toEqual({
      ok: true,
      value: { kind: 'objects', more: false, next: 0, objects: texts.map((text, id) => ({ id, text })) },
    })
  })

  it('6.13 report server ID: the answer says its own length', () => {
    // The content is the device's own; ID 01 and run indicator FF are an illustration.
    expect(encodeRequest(17, { kind: 'server-id' })).toEqual(bytes('11 11 CD EC'))
    expect(parseAnswer(17, { kind: 'server-id' }, bytes('11 11 02 01 FF 3D 2F'))).toEqual({
      ok: true,
      value: { kind: 'bytes', bytes: bytes('01 FF') },
    })
  })

  it('7 exception: coil at 04A1 not present', () => {
    const request: Request = { kind: 'read-bits', table: 'coil', address: 0x04a1, count: 1 }
    expect(encodeRequest(17, request)).toEqual(bytes('11 01 04 A1 00 01 AF 88'))
    expect(parseAnswer(17, request, bytes('11 81 02 C0 54'))).toEqual({ ok: false, failure: { kind: 'refused', code: 2 } })
  })
})

describe('an answer is taken only where it fits the request', () => {
  const read: Request = { kind: 'read-registers', table: 'holding', address: 0x6b, count: 3 }
  it.each([
    ['another unit', read, framed('12 03 06 02 2B 00 00 00 64')],
    ['another function', read, framed('11 04 06 02 2B 00 00 00 64')],
    ['an exception of another function', read, framed('11 84 02')],
    ['another byte count', read, framed('11 03 04 02 2B 00 00')],
    ['another byte count in a frame of the right length', read, framed('11 03 04 02 2B 00 00 00 64')],
    ['a byte count that the frame does not have', read, framed('11 03 06 02 2B 00 00')],
    ['another address written', { kind: 'write-register', address: 1, word: 3 } as const, framed('11 06 00 02 00 03')],
    ['another value written', { kind: 'write-register', address: 1, word: 3 } as const, framed('11 06 00 01 00 04')],
    ['another coil state', { kind: 'write-coil', address: 0xac, on: true } as const, framed('11 05 00 AC 00 00')],
    ['another quantity', { kind: 'write-registers', address: 1, words: [10, 258] } as const, framed('11 10 00 01 00 01')],
    ['another first coil', { kind: 'write-coils', address: 1, on: [true] } as const, framed('11 0F 00 02 00 01')],
    ['another mask', { kind: 'mask-write', address: 4, and: 0xf2, or: 0x25 } as const, framed('11 16 00 04 00 F2 00 24')],
    ['another identification code', { kind: 'device-identification', code: 1, object: 0 } as const, framed('11 2B 0E 02 01 00 00 00')],
  ])('%s is foreign', (_, request, frame) => {
    expect(parseAnswer(17, request, frame)).toMatchObject({ ok: false, failure: { kind: 'foreign' } })
  })

  it('a wrong CRC is garbled', () => {
    expect(parseAnswer(17, read, bytes('11 03 06 02 2B 00 00 00 64 C8 BB'))).toMatchObject({ ok: false, failure: { kind: 'garbled' } })
  })
})

describe('limits of a request', () => {
  // MODBUS Application Protocol V1.1b3, 6.1, 6.3, 6.11 and 6.12.
  it.each<Request>([
    { kind: 'read-registers', table: 'holding', address: 0, count: 126 },
    { kind: 'read-registers', table: 'input', address: 0, count: 0 },
    { kind: 'read-bits', table: 'coil', address: 0, count: 2001 },
    { kind: 'write-registers', address: 0, words: Array(124).fill(0) },
    { kind: 'write-coils', address: 0, on: Array(1969).fill(false) },
    { kind: 'write-register', address: 0, word: 65_536 },
    { kind: 'write-register', address: -1, word: 0 },
  ])('$kind beyond them is a mistake of the program', (request) => {
    expect(() => encodeRequest(17, request)).toThrow(RangeError)
  })

  it('the largest requests and answers fit a frame of 256 bytes', () => {
    expect(encodeRequest(1, { kind: 'write-registers', address: 0, words: Array(123).fill(0) })).toHaveLength(255)
    expect(encodeRequest(1, { kind: 'write-coils', address: 0, on: Array(1968).fill(true) })).toHaveLength(255)
    expect(answerLength(1, { kind: 'read-registers', table: 'holding', address: 0, count: 125 }, bytes('01 03 FA'))).toBe(255)
  })
})
