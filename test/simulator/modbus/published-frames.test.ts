import { describe, expect, it } from 'vitest'
import { serveRtu } from '../../../simulator/line.ts'
import type { Bank } from '../../../simulator/modbus/bank.ts'
import { serve } from '../../../simulator/modbus/serve.ts'
import { wordBank } from '../../../simulator/modbus/word-bank.ts'
import { bytes, hex } from '../bytes.ts'
import { memoryWire } from '../memory-wire.ts'

/** Puts one frame on a wire with unit 17 behind it and gives what comes back. */
const exchange = (bank: Bank, request: string): string[] => {
  const { wire, said, put } = memoryWire()
  const line = serveRtu(wire, [{ unit: 17, hear: (pdu) => ({ pdu: serve(bank, pdu), fault: undefined, delayMs: 0 }) }], () => true, {
    characterMs: 0,
    silenceMs: 5,
  })
  put(request)
  line.close()
  return said
}

const bitsFrom = (address: number, packed: string, count: number): Map<number, boolean> => {
  const data = bytes(packed)
  return new Map(Array.from({ length: count }, (_, i) => [address + i, ((data[i >> 3] ?? 0) & (1 << (i & 7))) !== 0]))
}
const wordsFrom = (address: number, words: readonly number[]): Map<number, number> => new Map(words.map((word, i) => [address + i, word]))

type Case = { title: string; bank: () => Parameters<typeof wordBank>[0]; request: string; response: string }

/** Examples of the MODBUS Application Protocol V1.1b3, sections as named, framed for unit 17. */
const published: readonly Case[] = [
  {
    title: '6.1 read coils 20 to 38',
    bank: () => ({ coil: bitsFrom(0x13, 'CD 6B 05', 19) }),
    request: '11 01 00 13 00 13 8E 92',
    response: '11 01 03 CD 6B 05 40 12',
  },
  {
    title: '6.2 read discrete inputs 197 to 218',
    bank: () => ({ discrete: bitsFrom(0xc4, 'AC DB 35', 22) }),
    request: '11 02 00 C4 00 16 BA A9',
    response: '11 02 03 AC DB 35 20 18',
  },
  {
    title: '6.3 read holding registers 108 to 110',
    bank: () => ({ holding: wordsFrom(0x6b, [555, 0, 100]) }),
    request: '11 03 00 6B 00 03 76 87',
    response: '11 03 06 02 2B 00 00 00 64 C8 BA',
  },
  {
    title: '6.4 read input register 9',
    bank: () => ({ input: wordsFrom(8, [10]) }),
    request: '11 04 00 08 00 01 B2 98',
    response: '11 04 02 00 0A F8 F4',
  },
  {
    title: '6.5 write coil 173 on',
    bank: () => ({ coil: bitsFrom(0xac, '00', 1) }),
    request: '11 05 00 AC FF 00 4E 8B',
    response: '11 05 00 AC FF 00 4E 8B',
  },
  {
    title: '6.6 write register 2',
    bank: () => ({ holding: wordsFrom(1, [0]) }),
    request: '11 06 00 01 00 03 9A 9B',
    response: '11 06 00 01 00 03 9A 9B',
  },
  { title: '6.8 return query data', bank: () => ({}), request: '11 08 00 00 A5 37 D8 1D', response: '11 08 00 00 A5 37 D8 1D' },
  {
    title: '6.11 write 10 coils from coil 20',
    bank: () => ({ coil: bitsFrom(0x13, '00 00', 10) }),
    request: '11 0F 00 13 00 0A 02 CD 01 BF 0B',
    response: '11 0F 00 13 00 0A 26 99',
  },
  {
    title: '6.12 write registers 2 and 3',
    bank: () => ({ holding: wordsFrom(1, [0, 0]) }),
    request: '11 10 00 01 00 02 04 00 0A 01 02 C6 F0',
    response: '11 10 00 01 00 02 12 98',
  },
  {
    title: '6.16 mask write register 5',
    bank: () => ({ holding: wordsFrom(4, [0x12]) }),
    request: '11 16 00 04 00 F2 00 25 66 E2',
    response: '11 16 00 04 00 F2 00 25 66 E2',
  },
  {
    title: '6.17 read 6 from register 4, write 3 from register 15',
    bank: () => ({ holding: new Map([...wordsFrom(3, [0xfe, 0x0acd, 1, 3, 0x0d, 0xff]), ...wordsFrom(14, [0, 0, 0])]) }),
    request: '11 17 00 03 00 06 00 0E 00 03 06 00 FF 00 FF 00 FF 4B 54',
    response: '11 17 0C 00 FE 0A CD 00 01 00 03 00 0D 00 FF 0D 75',
  },
  {
    title: '6.21 read basic device identification',
    bank: () => ({
      identification: {
        conformity: 1,
        objects: new Map([
          [0, 'Company identification'],
          [1, 'Product code XX'],
          [2, 'V2.11'],
        ]),
      },
    }),
    request: '11 2B 0E 01 00 B1 B4',
    response:
      '11 2B 0E 01 01 00 00 03 00 16 43 6F 6D 70 61 6E 79 20 69 64 65 6E 74 69 66 69 63 61 74 69 6F 6E 01 0F 50 72 6F 64 75 63 74 20 63 6F 64 65 20 58 58 02 05 56 32 2E 31 31 47 9E',
  },
  {
    title: '7 exception: coil at 04A1 not present',
    bank: () => ({ coil: bitsFrom(0, '00', 8) }),
    request: '11 01 04 A1 00 01 AF 88',
    response: '11 81 02 C0 54',
  },
]

/** The same document, sections 6.7 and 6.13, but the answers stand on no published frame that was read. */
const regression: readonly Case[] = [
  {
    title: '6.7 read exception status (regression check)',
    bank: () => ({ exceptionStatus: 0x6d }),
    request: '11 07 4C 22',
    response: '11 07 6D E2 18',
  },
  {
    title: '6.13 report server identification (regression check)',
    bank: () => ({ serverId: Uint8Array.of(1, 0xff) }),
    request: '11 11 CD EC',
    response: '11 11 02 01 FF 3D 2F',
  },
]

describe('a published request gets the published answer', () => {
  it.each([...published, ...regression])('$title', ({ bank, request, response }) => {
    expect(exchange(wordBank(bank()), request)).toEqual([response])
  })
})

describe('what published writes leave behind', () => {
  it('6.5 and 6.11 set the coils', () => {
    const coil = bitsFrom(0x13, '00 00', 10)
    serve(wordBank({ coil }), bytes('0F 00 13 00 0A 02 CD 01'))
    expect([...coil.values()]).toEqual([true, false, true, true, false, false, true, true, true, false])
    serve(wordBank({ coil }), bytes('05 00 14 FF 00'))
    expect(coil.get(0x14)).toBe(true)
  })

  it('6.6 and 6.12 set the registers', () => {
    const holding = wordsFrom(1, [0, 0])
    serve(wordBank({ holding }), bytes('06 00 01 00 03'))
    expect([...holding.values()]).toEqual([3, 0])
    serve(wordBank({ holding }), bytes('10 00 01 00 02 04 00 0A 01 02'))
    expect([...holding.values()]).toEqual([0x0a, 0x102])
  })

  it('6.16 makes 0017 of 0012 with AND 00F2 and OR 0025', () => {
    const holding = wordsFrom(4, [0x12])
    serve(wordBank({ holding }), bytes('16 00 04 00 F2 00 25'))
    expect(holding.get(4)).toBe(0x17)
  })

  it('6.17 writes before it reads', () => {
    const holding = wordsFrom(3, [1, 2])
    expect(hex(serve(wordBank({ holding }), bytes('17 00 03 00 02 00 04 00 01 02 00 FF')))).toBe('17 04 00 01 00 FF')
  })
})

/** Order of checks: MODBUS Application Protocol V1.1b3, state diagrams of chapter 6; codes: chapter 7. */
const refusals: readonly { title: string; request: string; response: string }[] = [
  { title: '03 with quantity 0', request: '11 03 00 00 00 00 47 5A', response: '11 83 03 00 F4' },
  { title: '03 with quantity 126', request: '11 03 00 00 00 7E C7 7A', response: '11 83 03 00 F4' },
  { title: '01 with quantity 2001', request: '11 01 00 00 07 D1 FC F6', response: '11 81 03 01 94' },
  { title: '03 past the end of the map', request: '11 03 FF FF 00 02 C6 BF', response: '11 83 02 C1 34' },
  { title: '05 with value 0001', request: '11 05 00 05 00 01 1E 9B', response: '11 85 03 03 54' },
  { title: '0F with a byte count that does not match', request: '11 0F 00 00 00 0A 03 CD 01 00 69 8D', response: '11 8F 03 05 F4' },
]

describe('what the specification refuses', () => {
  const full = () => wordBank({ holding: wordsFrom(0, new Array<number>(0x10000).fill(0)), coil: bitsFrom(0, '00', 16) })

  it.each(refusals)('$title', ({ request, response }) => {
    expect(exchange(full(), request)).toEqual([response])
  })

  it('10 with quantity 124, which fits no legal frame', () => {
    expect(hex(serve(full(), bytes(`10 00 00 00 7C F8 ${'00'.repeat(248)}`)))).toBe('90 03')
  })

  it('17 with write quantity 122, which fits no legal frame', () => {
    expect(hex(serve(full(), bytes(`17 00 00 00 01 00 00 00 7A F4 ${'00'.repeat(244)}`)))).toBe('97 03')
  })

  it('an unknown function', () => {
    expect(hex(serve(full(), bytes('55 00')))).toBe('D5 01')
  })

  it('an illegal quantity before an address that does not exist', () => {
    expect(hex(serve(wordBank({}), bytes('03 00 00 00 7E')))).toBe('83 03')
    expect(hex(serve(wordBank({}), bytes('03 00 00 00 7D')))).toBe('83 02')
  })

  it('device identification: another MEI type, an unknown code, an unknown single object', () => {
    const bank = wordBank({ identification: { conformity: 0x81, objects: new Map([[0, 'A']]) } })
    expect(hex(serve(bank, bytes('2B 0D 01 00')))).toBe('AB 01')
    expect(hex(serve(bank, bytes('2B 0E 05 00')))).toBe('AB 03')
    expect(hex(serve(bank, bytes('2B 0E 04 07')))).toBe('AB 02')
    expect(hex(serve(bank, bytes('2B 0E 04 00')))).toBe('2B 0E 04 81 00 00 01 00 01 41')
  })
})

describe('device identification that does not fit one answer', () => {
  const bank = wordBank({
    identification: {
      conformity: 0x82,
      objects: new Map([
        [0, 'x'.repeat(120)],
        [1, 'y'.repeat(120)],
        [2, 'z'],
      ]),
    },
  })

  it('says that more follows, from which object, and goes on there', () => {
    const first = serve(bank, bytes('2B 0E 01 00'))
    expect(first.length).toBeLessThanOrEqual(253)
    expect(hex(first.subarray(0, 7))).toBe('2B 0E 01 82 FF 02 02')
    expect(hex(serve(bank, bytes('2B 0E 01 02')))).toBe('2B 0E 01 82 00 00 01 02 01 7A')
  })
})
