import { describe, expect, it } from 'vitest'
import { crc16, hasRightCrc, withCrc } from '../../../main/bus/crc.ts'
import { bytes } from '../../builders/fake-line.ts'

describe('CRC-16 of Modbus RTU', () => {
  it.each([
    // Worked CRC of MODBUS over Serial Line V1.02, appendix B.
    ['02 07', 0x1241],
    // Published check value of CRC-16/MODBUS: "123456789".
    ['31 32 33 34 35 36 37 38 39', 0x4b37],
    ['01 03 00 00 00 0A', 0xcdc5],
    ['11 03 00 6B 00 03', 0x8776],
    ['01 04 02 FF FF', 0x80b8],
  ])('of %s', (text, crc) => {
    expect(crc16(bytes(text))).toBe(crc)
  })

  it('of nothing is the start value FFFF', () => {
    expect(crc16(new Uint8Array(0))).toBe(0xffff)
  })

  it('is sent low byte first', () => {
    // MODBUS over Serial Line V1.02, appendix B: 02 07 goes out as 02 07 41 12.
    expect(withCrc(bytes('02 07'))).toEqual(bytes('02 07 41 12'))
  })

  it('is right for the whole frame only', () => {
    const frame = bytes('11 03 00 6B 00 03 76 87')
    expect(hasRightCrc(frame)).toBe(true)
    expect(hasRightCrc(frame, 0, 7)).toBe(false)
    expect(hasRightCrc(bytes('11 03 00 6B 00 03 87 76'))).toBe(false)
    expect(hasRightCrc(bytes('11 03 00 6B 00 03 77 87'))).toBe(false)
    expect(hasRightCrc(bytes('11 03 00 6B 00 03 76 86'))).toBe(false)
    expect(hasRightCrc(Uint8Array.of(0x00, ...frame), 1)).toBe(true)
  })
})
