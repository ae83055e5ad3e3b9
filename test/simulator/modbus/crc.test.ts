import { describe, expect, it } from 'vitest'
import { crc16, crcFits, rtuFrame } from '../../../simulator/modbus/crc.ts'
import { bytes, hex } from '../bytes.ts'

/** Published check values of CRC-16/MODBUS. "02 07" is the worked case of MODBUS over Serial Line V1.02, appendix B. */
const published: readonly [string, number][] = [
  ['31 32 33 34 35 36 37 38 39', 0x4b37],
  ['', 0xffff],
  ['00', 0x40bf],
  ['FF', 0x00ff],
  ['03 03', 0x4141],
  ['02 07', 0x1241],
  ['01 03 00 00 00 0A', 0xcdc5],
  ['01 04 02 FF FF', 0x80b8],
  ['11 03 00 6B 00 03', 0x8776],
  ['01 08 00 00 A5 37', 0x8dda],
]

describe('CRC of a serial-line frame', () => {
  it.each(published)('of %s is the published value', (text, value) => {
    expect(crc16(bytes(text))).toBe(value)
  })

  it('travels low byte first', () => {
    expect(hex(rtuFrame(1, bytes('03 00 00 00 0A')))).toBe('01 03 00 00 00 0A C5 CD')
  })

  it('fits its own frame and no other', () => {
    expect(crcFits(bytes('01 03 00 00 00 0A C5 CD'))).toBe(true)
    expect(crcFits(bytes('01 03 00 00 00 0A CD C5'))).toBe(false)
    expect(crcFits(bytes('01 03 00 00 00 0B C5 CD'))).toBe(false)
    expect(crcFits(bytes('FF FF'))).toBe(false)
  })
})
