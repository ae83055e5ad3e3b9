import { beforeEach, describe, expect, it } from 'vitest'
import { createListening, type Listening } from '../../../main/bus/listening.ts'
import { bytes, framed } from '../../builders/fake-line.ts'

let masters: Uint8Array[]
let listening: Listening

beforeEach(() => {
  masters = []
  listening = createListening((frame) => masters.push(frame))
})

describe('another master', () => {
  // Published requests, MODBUS Application Protocol V1.1b3, 6.1 to 6.21, framed for unit 17.
  it.each([
    '11 01 00 13 00 13 8E 92',
    '11 02 00 C4 00 16 BA A9',
    '11 03 00 6B 00 03 76 87',
    '11 04 00 08 00 01 B2 98',
    '11 05 00 AC FF 00 4E 8B',
    '11 06 00 01 00 03 9A 9B',
    '11 0F 00 13 00 0A 02 CD 01 BF 0B',
    '11 10 00 01 00 02 04 00 0A 01 02 C6 F0',
    '11 11 CD EC',
    '11 16 00 04 00 F2 00 25 66 E2',
    '11 17 00 03 00 06 00 0E 00 03 06 00 FF 00 FF 00 FF 4B 54',
    '11 2B 0E 01 00 B1 B4',
  ])('is known by %s', (request) => {
    listening.heard(bytes(request))
    expect(masters).toEqual([bytes(request)])
  })

  it('is known by a request that comes in pieces, after noise', () => {
    listening.heard(bytes('00 FF 11'))
    for (const byte of bytes('03 00 6B 00 03 76')) listening.heard(Uint8Array.of(byte))
    expect(masters).toEqual([])
    listening.heard(bytes('87'))
    expect(masters).toEqual([bytes('11 03 00 6B 00 03 76 87')])
  })

  it('is known while we ask too', () => {
    listening.sent(framed('11 03 00 6B 00 03'))
    listening.heard(framed('11 03 00 6B 00 04'))
    listening.heard(framed('12 06 00 01 00 03'))
    expect(masters).toHaveLength(2)
  })
})

describe('no other master', () => {
  it('are requests with a wrong CRC, or beyond the limits of their function', () => {
    listening.heard(bytes('11 03 00 6B 00 03 76 88'))
    listening.heard(framed('11 03 00 6B 00 7E'))
    listening.heard(framed('11 01 00 6B 07 D1'))
    listening.heard(framed('11 05 00 AC 12 34'))
    listening.heard(framed('F8 03 00 6B 00 03'))
    expect(masters).toEqual([])
  })

  it('is noise, however long', () => {
    for (let i = 0; i < 2000; i++) listening.heard(Uint8Array.of((i * 37 + 11) & 0xff))
    expect(masters).toEqual([])
  })

  it('are answers', () => {
    for (const answer of ['11 01 03 CD 6B 05 40 12', '11 03 06 02 2B 00 00 00 64 C8 BA', '11 10 00 01 00 02 12 98', '11 81 02 C0 54']) {
      listening.heard(bytes(answer))
    }
    expect(masters).toEqual([])
  })

  it('is the echo of what we sent', () => {
    listening.sent(framed('11 03 00 6B 00 03'))
    listening.heard(framed('11 03 00 6B 00 03'))
    expect(masters).toEqual([])
  })

  it('is the late or doubled answer to a write of ours, which looks like a request', () => {
    listening.sent(framed('11 06 00 01 00 03'))
    listening.sent(framed('11 06 00 02 00 07'))
    listening.sent(framed('11 03 00 6B 00 03'))
    listening.heard(framed('11 06 00 01 00 03'))
    listening.heard(framed('11 06 00 02 00 08'))
    expect(masters).toEqual([])
  })

  it('is the answer to our write under a wrong unit', () => {
    listening.sent(framed('11 06 00 01 00 03'))
    listening.heard(framed('12 06 00 01 00 03'))
    expect(masters).toEqual([])
  })

  it('is an answer of 17 to 24 bits to our read, which may look like a request', () => {
    listening.sent(framed('11 01 00 13 00 13'))
    listening.heard(framed('11 01 03 CD 00 05'))
    listening.heard(framed('12 01 03 CD 00 05'))
    expect(masters).toEqual([])
  })
})
