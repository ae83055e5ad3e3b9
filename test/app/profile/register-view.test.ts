import { describe, expect, it } from 'vitest'
import { agreeingCandidates, agreement, likeliestFirst, stillAgree, viewRegisters } from '../../../app/profile/register-view.ts'

const named = (list: ReturnType<typeof viewRegisters>) => list.map((c) => `${c.address} ${c.type} ${c.order} ${c.decimals ?? '-'}`)

describe('the register viewer', () => {
  // Bit patterns by IEEE 754-2019 and two's complement: 2.0005 is 40 00 08 31, -123456 is FF FE 1D C0.
  it('shows the same words in every type and order', () => {
    const texts = new Map(viewRegisters(100, [0x4000, 0x0831], undefined, [0]).map((c) => [`${c.address} ${c.type} ${c.order}`, c.text]))
    expect(texts.get('100 f32 ABCD')).toBe('2.0005')
    expect(texts.get('100 u16 AB')).toBe('16384')
    expect(texts.get('100 u16 BA')).toBe('64')
    expect(texts.get('101 u16 AB')).toBe('2097')
    expect(texts.get('101 i16 BA')).toBe('12552')
    expect(texts.get('100 u32 CDAB')).toBe('137445376')
    expect(texts.has('101 f32 ABCD')).toBe(false)
    expect(texts.size).toBe(4 + 4 + 12)
  })

  it('says which agree with the display: the float rounded to its digits, no other', () => {
    const seen = viewRegisters(100, [0x4000, 0x0831], '2.00')
    expect(named(seen.filter((c) => c.agrees !== 'no'))).toEqual(['100 f32 ABCD -'])
    expect(seen.find((c) => c.agrees !== 'no')?.agrees).toBe('rounded')
    expect(viewRegisters(100, [0x4000, 0x0831], '2.0005').filter((c) => c.agrees === 'exact')).toHaveLength(1)
  })

  it('finds a whole number with its decimals, low word first', () => {
    const seen = viewRegisters(40, [0x1dc0, 0xfffe], '-1234.56')
    expect(named(seen.filter((c) => c.agrees === 'exact'))).toEqual(['40 i32 CDAB 2'])
  })

  it('a second look under another load leaves fewer', () => {
    // -5.0 as i32 is FF FF FF CE with one decimal.
    const below = viewRegisters(7, [0xffff, 0xffce], '-5.0')
    const above = viewRegisters(7, [0, 100], '10.0')
    expect(named(above.filter((c) => c.agrees !== 'no'))).toEqual(['7 u32 ABCD 1', '7 i32 ABCD 1', '8 u16 AB 1', '8 i16 AB 1'])
    expect(named(stillAgree(below, above))).toEqual(['7 i32 ABCD 1', '8 i16 AB 1'])
    expect(named(stillAgree(above, below))).toEqual(['7 i32 ABCD 1', '8 i16 AB 1'])
  })

  it('has nothing to say where an address could not be read, or for NaN', () => {
    expect(viewRegisters(0, [null, 5], '5').every((c) => c.address === 1)).toBe(true)
    expect(viewRegisters(0, [0x7fc0, 0], '5').find((c) => c.type === 'f32' && c.order === 'ABCD')).toMatchObject({
      text: null,
      agrees: 'no',
    })
  })

  it('allows half of the last digit shown and no more', () => {
    expect([agreement('12.345', '12.3'), agreement('12.35', '12.3'), agreement('12.3501', '12.3'), agreement('12', '')]).toEqual([
      'rounded',
      'rounded',
      'no',
      'no',
    ])
  })
})

it('lists what agrees in an order that hardly any unit has behind all else', () => {
  // 0x0012 is 18, and 0x1200 is 18 with its bytes swapped (Modbus sends the high byte first: MODBUS Application Protocol V1.1b3, 4.2).
  const found = agreeingCandidates(7, [0x1200, 0x00b4, 0x0012], '18')
  const orders = likeliestFirst(found).map((c) => `${c.address} ${c.type} ${c.order} ${c.decimals}`)
  expect(orders).toEqual(['8 u16 AB 1', '8 i16 AB 1', '9 u16 AB 0', '9 i16 AB 0', '7 u16 BA 0', '7 i16 BA 0'])
})
