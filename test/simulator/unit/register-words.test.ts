import { describe, expect, it } from 'vitest'
import { decodeWords, encodeWords, fieldOf, withField } from '../../../simulator/unit/register-words.ts'

/** Bit patterns by hand after IEEE 754 and two's complement, in the four orders that travel (regression check: worked here, not read anywhere). */
const cases = [
  { type: 'f32', value: -123.456, ABCD: [0xc2f6, 0xe979], CDAB: [0xe979, 0xc2f6], BADC: [0xf6c2, 0x79e9], DCBA: [0x79e9, 0xf6c2] },
  { type: 'f32', value: 2.0005, ABCD: [0x4000, 0x0831], CDAB: [0x0831, 0x4000], BADC: [0x0040, 0x3108], DCBA: [0x3108, 0x0040] },
  { type: 'f32', value: 1, ABCD: [0x3f80, 0], CDAB: [0, 0x3f80], BADC: [0x803f, 0], DCBA: [0, 0x803f] },
  { type: 'i32', value: 305419896, ABCD: [0x1234, 0x5678], CDAB: [0x5678, 0x1234], BADC: [0x3412, 0x7856], DCBA: [0x7856, 0x3412] },
  { type: 'i32', value: -123456, ABCD: [0xfffe, 0x1dc0], CDAB: [0x1dc0, 0xfffe], BADC: [0xfeff, 0xc01d], DCBA: [0xc01d, 0xfeff] },
] as const

describe('32-bit values in two words', () => {
  for (const given of cases)
    for (const order of ['ABCD', 'CDAB', 'BADC', 'DCBA'] as const)
      it(`${given.type} ${given.value} as ${order}`, () => {
        expect(encodeWords({ type: given.type, order }, given.value)).toEqual(given[order])
        expect(decodeWords({ type: given.type, order }, given[order])).toBe(given.type === 'f32' ? Math.fround(given.value) : given.value)
      })
})

describe('16-bit values', () => {
  it('may have their bytes exchanged', () => {
    expect(encodeWords({ type: 'u16', order: 'AB' }, 0x1234)).toEqual([0x1234])
    expect(encodeWords({ type: 'u16', order: 'BA' }, 0x1234)).toEqual([0x3412])
    expect(decodeWords({ type: 'i16', order: 'AB' }, [0xffff])).toBe(-1)
  })

  it('stop at the end of their range', () => {
    expect(encodeWords({ type: 'u16', order: 'AB' }, 70_000)).toEqual([0xffff])
    expect(encodeWords({ type: 'u16', order: 'AB' }, -1)).toEqual([0])
    expect(encodeWords({ type: 'i16', order: 'AB' }, -40_000)).toEqual([0x8000])
  })
})

describe('bits of a word', () => {
  it('are read and replaced without touching their neighbours', () => {
    expect(fieldOf(0b1011_0110, { from: 4, width: 3 })).toBe(0b011)
    expect(withField(0b1011_0110, { from: 4, width: 3 }, 0b100)).toBe(0b1100_0110)
    expect(fieldOf(0xf000_0001, { from: 28, width: 4 })).toBe(0xf)
    expect(withField(0xf000_0001, { from: 28, width: 4 }, 0)).toBe(1)
  })
})
