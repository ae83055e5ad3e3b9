import { describe, expect, it } from 'vitest'
import { startBundled } from './bundled-unit.ts'

const cell = (capacity: number) => ({ sensors: [{ capacity, ratedOutputMvPerV: 2, zeroMvPerV: 0 }] })

/**
 * Range 4 mV/V everywhere. Channel 1: 2 mV/V is 1000.0 kg, one decimal. Channel 2: 1 mV/V is 5.00 t, two decimals.
 * Channel 3: 2 mV/V is 100 kN. Channel 4 is not scaled.
 */
const start = () =>
  startBundled(
    'two-pairs-four-channels',
    {
      'input.range@1': [2],
      'reading.decimals@1': [1],
      'scale.upper.signal@1': [0x001e, 0x8480],
      'scale.upper.reading@1': [0, 10_000],
      'input.range@2': [2],
      'reading.unit@2': [1],
      'reading.decimals@2': [2],
      'scale.upper.signal@2': [0x000f, 0x4240],
      'scale.upper.reading@2': [0, 500],
      'input.range@3': [2],
      'reading.unit@3': [3],
      'scale.upper.signal@3': [0x001e, 0x8480],
      'scale.upper.reading@3': [0, 100],
    },
    [{ channel: 1, ...cell(1000) }, { channel: 2, unit: 't', ...cell(10) }, { channel: 3, unit: 'kN', ...cell(100) }, { channel: 4 }],
  )

const reading = (channel: number) => `04 00 ${['01', '0B', '15', '1F'][channel - 1]} 00 02`
const status = (channel: number) => `04 00 ${['00', '0A', '14', '1E'][channel - 1]} 00 01`

describe('channels of one unit', () => {
  it('each have their load, scaling, decimals and unit', () => {
    const { ask, settle, shown, unitShown } = start()
    settle(500, 1)
    settle(2.5, 2)
    // 1 mV/V is 500.0 kg; 0.5 mV/V is 2.50 t; no load is 0 kN.
    expect(ask(reading(1))).toBe('04 04 00 00 13 88')
    expect(ask(reading(2))).toBe('04 04 00 00 00 FA')
    expect(ask(reading(3))).toBe('04 04 00 00 00 00')
    expect([unitShown(1), unitShown(2), unitShown(3)]).toEqual(['kg', 't', 'kN'])
    expect(shown(2)).toBeCloseTo(2.5, 9)
  })

  it('tell over range, under range and a missing scaling each for itself', () => {
    const { ask, settle } = start()
    settle(-2500, 1)
    settle(250, 3)
    expect([1, 2, 3, 4].map((channel) => ask(status(channel)))).toEqual(['04 02 00 02', '04 02 00 00', '04 02 00 01', '04 02 00 04'])
  })

  it('are zeroed each for itself', () => {
    const { ask, settle } = start()
    settle(500, 1)
    settle(2.5, 2)
    expect(ask('05 00 01 FF 00')).toBe('05 00 01 FF 00')
    expect(ask(reading(1))).toBe('04 04 00 00 00 00')
    expect(ask(reading(2))).toBe('04 04 00 00 00 FA')
  })

  it('keep a fault of one register to its own channel', () => {
    const { ask, indicator } = start()
    indicator.inject({ kind: 'refuse', register: 'scale.upper.reading@1', code: 4, times: 1 })
    expect(ask('10 00 D2 00 02 04 00 00 00 64')).toBe('10 00 D2 00 02')
    expect(ask('10 00 6E 00 02 04 00 00 00 64')).toBe('90 04')
    expect(ask('10 00 6E 00 02 04 00 00 00 64')).toBe('10 00 6E 00 02')
  })

  it('move only their own readings when their decimals change', () => {
    const { ask } = start()
    expect(ask('10 00 66 00 01 02 00 02')).toBe('10 00 66 00 01')
    expect(ask('03 00 6E 00 02')).toBe('03 04 00 01 86 A0')
    expect(ask('03 00 D2 00 02')).toBe('03 04 00 00 01 F4')
  })
})

describe('faults of a register', () => {
  it('are taken back with the others', () => {
    const { ask, indicator } = start()
    indicator.inject({ kind: 'refuse', register: 'scale.upper.reading@1', code: 4, times: 5 })
    indicator.clearFaults()
    expect(ask('10 00 6E 00 02 04 00 00 00 64')).toBe('10 00 6E 00 02')
  })
})

describe('a power cycle', () => {
  it('takes back zero', () => {
    const { ask, indicator, settle, wait } = start()
    settle(500, 1)
    ask('05 00 01 FF 00')
    indicator.power(false)
    indicator.power(true)
    wait(20_000)
    expect(ask(reading(1))).toBe('04 04 00 00 13 88')
  })
})
