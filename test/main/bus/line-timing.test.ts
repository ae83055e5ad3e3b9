import { describe, expect, it } from 'vitest'
import { bitsPerCharacter, lineTiming, wireMs } from '../../../main/bus/line-timing.ts'

const even = (baud: number) => ({ baud, parity: 'even', stopBits: 1 }) as const
const plain = (baud: number) => ({ baud, parity: 'none', stopBits: 1 }) as const

describe('the silence between frames', () => {
  // MODBUS over Serial Line V1.02, 2.5.1.1: 3.5 characters of 11 bits up to 19,200 bit/s, 1.750 ms above.
  it.each([
    [1200, 32.0833],
    [2400, 16.0417],
    [4800, 8.0208],
    [9600, 4.0104],
    [19_200, 2.0052],
    [38_400, 1.75],
    [115_200, 1.75],
  ])('at %i bit/s, 11 bits a character', (baud, ms) => {
    expect(lineTiming(even(baud)).silenceMs).toBeCloseTo(ms, 3)
  })

  // The same 3.5 characters, of the 10 bits that 8N1 really has. Regression check: computed.
  it.each([
    [1200, 29.1667],
    [9600, 3.6458],
    [19_200, 1.8229],
    [57_600, 1.75],
  ])('at %i bit/s, 10 bits a character', (baud, ms) => {
    expect(lineTiming(plain(baud)).silenceMs).toBeCloseTo(ms, 3)
  })
})

it('a character has 11 bits, and 10 without parity and second stop bit', () => {
  // MODBUS over Serial Line V1.02, 2.5.1: 8E1, 8O1 and 8N2 all make 11.
  expect(bitsPerCharacter({ parity: 'even', stopBits: 1 })).toBe(11)
  expect(bitsPerCharacter({ parity: 'odd', stopBits: 1 })).toBe(11)
  expect(bitsPerCharacter({ parity: 'none', stopBits: 2 })).toBe(11)
  expect(bitsPerCharacter({ parity: 'none', stopBits: 1 })).toBe(10)
})

it('a frame of 8 bytes takes 80 bits at 8N1', () => {
  expect(wireMs(lineTiming(plain(9600)), 8)).toBeCloseTo(80 / 9.6, 9)
})
