import { describe, expect, it } from 'vitest'
import { decode, decodeBits, encode } from '../../../app/profile/codec.ts'
import { nearestFloat32, shortestText } from '../../../app/profile/float32.ts'
import { type ByteOrder, type Register, register } from '../../../app/profile/schema.ts'

const make = (fields: Partial<Register>): Register =>
  register.parse({
    name: 'scale.upper.signal',
    table: 'holding',
    address: 0,
    access: 'read-write',
    role: 'setting',
    kept: 'at-once',
    evidence: 'invented',
    type: 'u16',
    order: 'AB',
    ...fields,
  })

const wordsOf = (bytes: string): number[] => {
  const b = bytes.split(' ').map((h) => Number.parseInt(h, 16))
  return [(b[0]! << 8) | b[1]!, (b[2]! << 8) | b[3]!]
}

// Bit patterns by IEEE 754-2019 and two's complement; which order a maker sends is his choice (MODBUS Application
// Protocol V1.1b3, 4.2 fixes 16-bit big-endian only). Regression check on the order names: common practice, no source.
const published: [Register['type'], string, Record<'ABCD' | 'CDAB' | 'BADC' | 'DCBA', string>][] = [
  ['f32', '-123.456', { ABCD: 'C2 F6 E9 79', CDAB: 'E9 79 C2 F6', BADC: 'F6 C2 79 E9', DCBA: '79 E9 F6 C2' }],
  ['f32', '2.0005', { ABCD: '40 00 08 31', CDAB: '08 31 40 00', BADC: '00 40 31 08', DCBA: '31 08 00 40' }],
  ['f32', '1', { ABCD: '3F 80 00 00', CDAB: '00 00 3F 80', BADC: '80 3F 00 00', DCBA: '00 00 80 3F' }],
  ['i32', '305419896', { ABCD: '12 34 56 78', CDAB: '56 78 12 34', BADC: '34 12 78 56', DCBA: '78 56 34 12' }],
  ['i32', '-123456', { ABCD: 'FF FE 1D C0', CDAB: '1D C0 FF FE', BADC: 'FE FF C0 1D', DCBA: 'C0 1D FE FF' }],
]

describe('32-bit values in two registers', () => {
  for (const [type, text, orders] of published)
    for (const [order, bytes] of Object.entries(orders))
      it(`${type} ${text} as ${order} is ${bytes}`, () => {
        const r = make({ type, order: order as ByteOrder })
        expect(encode(r, text)).toEqual({ ok: true, value: wordsOf(bytes) })
        expect(decode(r, wordsOf(bytes))).toBe(text)
      })

  it('gives no value for NaN and infinity, and nought for negative nought', () => {
    const r = make({ type: 'f32', order: 'ABCD' })
    expect(decode(r, [0x7fc0, 0])).toBeNull()
    expect(decode(r, [0x7f80, 0])).toBeNull()
    expect(decode(r, [0xff80, 0])).toBeNull()
    expect(decode(r, [0x8000, 0])).toBe('0')
  })
})

describe('single floats', () => {
  it('names a single by the shortest decimal that is no other', () => {
    expect(shortestText(Math.fround(2.001))).toBe('2.001')
    expect(shortestText(Math.fround(1e-7))).toBe('0.0000001')
    expect(shortestText(16777216)).toBe('16777216')
    expect(shortestText(Math.fround(123456789))).toBe('123456790')
  })

  it('takes the nearest single even where a double in between would round twice', () => {
    // 1 + 2^-24 + 2^-60 lies just above the midpoint of 1 and the next single; as a double it is the midpoint, which goes to even, 1.
    expect(Math.fround(Number('1.000000059604644776257986737988403547205962240695953369140625'))).toBe(1)
    expect(nearestFloat32('1.000000059604644776257986737988403547205962240695953369140625')).toBe(1 + 2 ** -23)
  })
})

describe('integers with decimals', () => {
  const r = make({ type: 'i16', order: 'AB', decimals: 3 })
  it('are shifted exactly, never multiplied by a float', () => {
    expect(decode(r, [2001])).toBe('2.001')
    expect(decode(r, [0xffff])).toBe('-0.001')
    expect(encode(r, '2.0010')).toEqual({ ok: true, value: [2001] })
    expect(encode(r, '-0.001')).toEqual({ ok: true, value: [0xffff] })
  })

  it('refuse what they cannot hold and say what they can', () => {
    expect(encode(r, '2.0011')).toMatchObject({ ok: false, failure: { kind: 'too-many-decimals' } })
    expect(encode(r, '32.768')).toMatchObject({
      ok: false,
      failure: { kind: 'beyond-width', why: expect.stringContaining('-32.768 to 32.767') },
    })
    expect(encode(r, 'abc')).toMatchObject({ ok: false, failure: { kind: 'not-a-number' } })
    expect(encode(make({ type: 'u16', limits: { from: '1', to: '5' } }), '6')).toMatchObject({
      ok: false,
      failure: { kind: 'beyond-limits' },
    })
  })

  it('mean nothing while the decimals held elsewhere are not known', () => {
    const moving = make({ type: 'u16', decimals: { register: 'reading.decimals' } })
    expect(decode(moving, [1234])).toBeNull()
    expect(decode(moving, [1234], { decimals: 2 })).toBe('12.34')
    expect(encode(moving, '12.34')).toMatchObject({ ok: false, failure: { kind: 'decimals-unknown' } })
  })
})

describe('options and fields', () => {
  const options = [
    { raw: 0, means: '1 mV/V' },
    { raw: 1, means: '2 mV/V' },
  ]
  it('an option is known by its meaning; a code that the profile does not know means nothing', () => {
    const r = make({ options })
    expect(decode(r, [1])).toBe('2 mV/V')
    expect(decode(r, [7])).toBeNull()
    expect(encode(r, '3 mV/V')).toMatchObject({
      ok: false,
      failure: { kind: 'no-such-option', why: expect.stringContaining('1 mV/V, 2 mV/V') },
    })
  })

  it('a field leaves the other bits of its word alone', () => {
    const r = make({ options, field: { from: 4, width: 2 } })
    expect(decode(r, [0b1101_1111])).toBe('2 mV/V')
    expect(encode(r, '1 mV/V', { current: [0b1101_1111] })).toEqual({ ok: true, value: [0b1100_1111] })
  })

  it('names the status bits that are set', () => {
    const r = make({
      access: 'read',
      role: 'live',
      bits: [
        { bit: 0, name: 'over-range' },
        { bit: 3, name: 'motion' },
        { bit: 15, name: 'fault' },
      ],
    })
    expect(decodeBits(r, [0x8008])).toEqual(['motion', 'fault'])
  })
})
