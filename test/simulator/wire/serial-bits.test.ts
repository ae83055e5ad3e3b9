import { describe, expect, it } from 'vitest'
import type { SerialFormat } from '../../../app/profile/schema.ts'
import { asHeard } from '../../../simulator/wire/serial-bits.ts'
import { bytes, hex } from '../bytes.ts'

const fast: SerialFormat = { baud: 19_200, parity: 'none', stopBits: 1 }
const slow: SerialFormat = { ...fast, baud: 9600 }
const even: SerialFormat = { ...fast, parity: 'even' }
const odd: SerialFormat = { ...fast, parity: 'odd' }

describe('bytes heard in another format', () => {
  // Worked by hand from the levels of an asynchronous character: start bit 0, bits from the lowest, parity, stop bit 1.
  it.each([
    ['at the same format are the same', '00 55 FF', fast, fast, '00 55 FF'],
    ['at twice the speed a start bit is two: FF is FE', 'FF', slow, fast, 'FE'],
    ['at twice the speed 00 has no stop bit where it should', '00', slow, fast, ''],
    ['at half the speed 00 is three low bits, then an idle line: F8', '00', fast, slow, 'F8'],
    ['with the other parity every character is wrong', '00 55 FF', even, odd, ''],
    ['without a parity bit the stop bit is taken for one: 03 wants a 0', '03', fast, even, ''],
    ['without a parity bit the stop bit is taken for one: 01 wants a 1', '01', fast, even, '01'],
    ['a parity bit of 0 is no stop bit', '03', even, fast, ''],
    ['a parity bit of 1 passes for a stop bit', '01', even, fast, '01'],
  ] as const)('%s', (_, said, sent, heard, expected) => {
    expect(hex(asHeard(bytes(said), sent, heard))).toBe(expected)
  })

  it('are the same garbage each time', () => {
    const request = bytes('01 03 00 00 00 01 84 0A')
    const once = hex(asHeard(request, slow, fast))
    expect(once).not.toBe(hex(request))
    expect(hex(asHeard(request, slow, fast))).toBe(once)
  })
})
