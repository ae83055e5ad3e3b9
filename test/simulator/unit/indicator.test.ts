import { describe, expect, it } from 'vitest'
import { accepted, lockedProfile, save, startLocked, unlock, writeUpperSignal } from './locked-indicator.ts'

const upper = 'scale.upper.signal@1'
const old = [0x4000, 0]
const written = [0x3f80, 0]

describe('lock', () => {
  it('refuses settings with exception 04 until the right word is written, and reads 0, then 1', () => {
    const { ask, indicator } = startLocked()
    expect(ask('03 00 C8 00 01')).toBe('03 02 00 00')
    expect(ask(writeUpperSignal)).toBe('90 04')
    expect(indicator.settings()[upper]).toEqual(old)
    expect(ask('10 00 C8 00 01 02 12 34')).toBe('90 03')
    expect(ask(unlock)).toBe('10 00 C8 00 01')
    expect(ask('03 00 C8 00 01')).toBe('03 02 00 01')
    expect(ask(writeUpperSignal)).toBe(accepted)
    expect(indicator.settings()[upper]).toEqual(written)
  })

  it('closes on command and at power-up', () => {
    const { ask, indicator } = startLocked()
    ask(unlock)
    ask('10 00 C8 00 01 02 00 00')
    expect(ask(writeUpperSignal)).toBe('90 04')
    ask(unlock)
    indicator.power(false)
    indicator.power(true)
    expect(ask(writeUpperSignal)).toBe('90 04')
  })
})

describe('volatile and saved settings', () => {
  it('what is not saved is gone after a power cycle', () => {
    const { ask, indicator } = startLocked()
    ask(unlock)
    ask(writeUpperSignal)
    expect(indicator.saved()[upper]).toEqual(old)
    indicator.power(false)
    indicator.power(true)
    expect(indicator.settings()[upper]).toEqual(old)
  })

  it('saving takes half the time the profile says to wait; until then a power cut loses it', () => {
    const { ask, indicator, wait } = startLocked()
    ask(unlock)
    ask(writeUpperSignal)
    ask(save)
    wait(149)
    expect(indicator.saved()[upper]).toEqual(old)
    wait(1)
    expect(indicator.saved()[upper]).toEqual(written)
    indicator.power(false)
    indicator.power(true)
    expect(indicator.settings()[upper]).toEqual(written)
  })

  it('what is written while it saves is not saved', () => {
    const { ask, indicator, wait } = startLocked()
    ask(unlock)
    ask(writeUpperSignal)
    ask(save)
    ask('10 00 72 00 02 04 40 00 00 00')
    wait(300)
    expect(indicator.saved()[upper]).toEqual(written)
    expect(indicator.settings()[upper]).toEqual(old)
  })

  it('the status tells locked (bit 6) and unsaved (bit 5)', () => {
    const { ask, wait } = startLocked()
    const status = () => ask('04 00 00 00 01')
    expect(status()).toBe('04 02 00 40')
    ask(unlock)
    expect(status()).toBe('04 02 00 00')
    ask(writeUpperSignal)
    expect(status()).toBe('04 02 00 20')
    ask(save)
    wait(300)
    expect(status()).toBe('04 02 00 00')
  })

  it('a change at the front panel is in force and saved at once, whatever the lock', () => {
    const { indicator } = startLocked()
    indicator.panel(upper, written)
    expect(indicator.settings()[upper]).toEqual(written)
    expect(indicator.saved()[upper]).toEqual(written)
  })
})

describe('what a write may not do', () => {
  const refused: readonly [string, string, string][] = [
    ['go to an address where nothing is: 02', '10 00 00 00 01 02 00 00', '90 02'],
    ['leave the registers at the end: 02', '10 00 C9 00 02 04 00 01 00 00', '90 02'],
    ['take half of a 32-bit value: 03', '10 00 72 00 01 02 3F 80', '90 03'],
    ['take the second half of one: 03', '10 00 73 00 01 02 00 00', '90 03'],
    ['pass the upper limit, 3.5 mV/V: 03', '10 00 72 00 02 04 40 60 00 01', '90 03'],
    ['pass the lower limit, -3.5 mV/V: 03', '10 00 72 00 02 04 C0 60 00 01', '90 03'],
    ['be no number: 03', '10 00 72 00 02 04 7F C0 00 00', '90 03'],
    ['be infinite: 03', '10 00 72 00 02 04 7F 80 00 00', '90 03'],
    ['be an option that does not exist: 03', '10 00 64 00 01 02 00 03', '90 03'],
    ['be an unknown command: 03', '10 00 C9 00 01 02 00 63', '90 03'],
    ['be longer than the indicator takes, 20 words: 03', `10 00 64 00 15 2A ${'00'.repeat(42)}`, '90 03'],
    ['use function 06 where the indicator takes 16 only: 01', '06 00 64 00 01', '86 01'],
  ]

  it.each(refused)('%s', (_, request, answer) => {
    const { ask, indicator } = startLocked()
    ask(unlock)
    const before = indicator.settings()
    expect(ask(request)).toBe(answer)
    expect(indicator.settings()).toEqual(before)
  })

  it('change a part of what it was asked when another part is refused', () => {
    const { ask, indicator } = startLocked()
    ask(unlock)
    const before = indicator.settings()
    expect(ask('10 00 6E 00 06 0C 3F 80 00 00 00 00 00 00 40 60 00 01')).toBe('90 03')
    expect(indicator.settings()).toEqual(before)
  })

  it('the limits themselves are accepted: 3.5 mV/V, and an interval of 0.0001', () => {
    const { ask } = startLocked()
    ask(unlock)
    expect(ask('10 00 72 00 02 04 40 60 00 00')).toBe(accepted)
    expect(ask('10 00 69 00 02 04 38 D1 B7 17')).toBe('10 00 69 00 02')
  })
})

describe('reading', () => {
  it('gives 0 in gaps up to eight words and exception 02 beyond', () => {
    const { ask } = startLocked()
    expect(ask('03 00 6B 00 03')).toBe('03 06 00 00 00 00 00 00')
    expect(ask('03 00 04 00 01')).toBe('83 02')
    expect(ask('03 00 CA 00 01')).toBe('83 02')
  })

  it('gives exception 02 in every gap where the bench says so', () => {
    const { ask } = startLocked({ gaps: 'refuse' })
    expect(ask('03 00 6B 00 03')).toBe('83 02')
    expect(ask('03 00 69 00 02')).toBe('03 04 3F 00 00 00')
  })

  it('of more than the indicator gives at once, 60 words, is exception 03', () => {
    const { ask } = startLocked()
    expect(ask('03 00 64 00 3D')).toBe('83 03')
  })

  it('tells the model that the profile tests for', () => {
    const { ask } = startLocked()
    expect(ask('03 00 00 00 01')).toBe('03 02 51 51')
  })
})

describe('a known load', () => {
  /** Reading, signal, gross as the unit sends them: input registers 1 to 6. */
  const live = '04 00 01 00 06'

  it('of 500 kg on a cell of 1000 kg and 2 mV/V is 1 mV/V and 500 kg', () => {
    const { ask, load, wait } = startLocked()
    load(500)
    wait(1000)
    expect(ask(live)).toBe('04 0C 43 FA 00 00 3F 80 00 00 43 FA 00 00')
  })

  it('is shown in whole intervals of 0.5 kg', () => {
    const { ask, load, wait } = startLocked()
    load(500.3)
    wait(1000)
    expect(ask('04 00 01 00 02')).toBe('04 04 43 FA 40 00')
    load(500.2)
    wait(1000)
    expect(ask('04 00 01 00 02')).toBe('04 04 43 FA 00 00')
  })

  it('beyond the range saturates: 1000 kg at 2 mV/V, status bit 0', () => {
    const { ask, load, wait } = startLocked()
    load(1500)
    wait(1000)
    expect(ask('04 00 00 00 03')).toBe('04 06 00 41 44 7A 00 00')
  })

  it('moves: status bit 3 until half a second after a step', () => {
    const { ask, load, wait } = startLocked()
    wait(1000)
    load(100)
    wait(100)
    expect(ask('04 00 00 00 01')).toBe('04 02 00 48')
    wait(1000)
    expect(ask('04 00 00 00 01')).toBe('04 02 00 40')
  })

  it('comes with its filter: 0.2 s shows 63 % of a step after 0.2 s', () => {
    const { ask, load, wait, indicator } = startLocked()
    indicator.panel('filter.time@1', [20])
    wait(1000)
    load(1000)
    wait(200)
    expect(ask('04 00 01 00 02')).toBe('04 04 44 1E 00 00')
  })

  it('is zeroed, tared and cleared by command; status bit 4 says net', () => {
    const { ask, load, wait } = startLocked()
    load(100)
    wait(1000)
    ask('10 00 C9 00 01 02 00 02')
    expect(ask(live)).toBe('04 0C 00 00 00 00 3E 4C CC D0 00 00 00 00')
    load(300)
    wait(1000)
    ask('10 00 C9 00 01 02 00 03')
    load(350)
    wait(1000)
    expect(ask('04 00 00 00 03')).toBe('04 06 00 50 42 48 00 00')
    expect(ask('04 00 05 00 02')).toBe('04 04 43 7A 00 00')
    ask('10 00 C9 00 01 02 00 04')
    expect(ask('04 00 00 00 03')).toBe('04 06 00 40 43 7A 00 00')
  })

  it('cannot be zeroed while over range: exception 04', () => {
    const { ask, load, wait } = startLocked()
    load(1500)
    wait(1000)
    expect(ask('10 00 C9 00 01 02 00 02')).toBe('90 04')
  })

  it('reads 0 with a fault (bit 2) where the two pairs make no line', () => {
    const { ask, load, wait, indicator } = startLocked()
    indicator.panel(upper, [0, 0])
    load(500)
    wait(1000)
    expect(ask('04 00 00 00 03')).toBe('04 06 00 44 00 00 00 00')
  })
})

describe('faults of the device', () => {
  it('refuse the register so many times, and no other', () => {
    const { ask, indicator } = startLocked()
    ask(unlock)
    indicator.inject({ kind: 'refuse', register: upper, code: 3, times: 2 })
    expect(ask('10 00 6E 00 02 04 3F 80 00 00')).toBe('10 00 6E 00 02')
    expect([ask(writeUpperSignal), ask(writeUpperSignal), ask(writeUpperSignal)]).toEqual(['90 03', '90 03', accepted])
  })

  it('refuse a register that can only be read when it is read', () => {
    const { ask, indicator } = startLocked()
    indicator.inject({ kind: 'refuse', register: 'live.signal@1', code: 6, times: 1 })
    expect([ask('04 00 03 00 02').slice(0, 5), ask('04 00 03 00 02').slice(0, 5)]).toEqual(['84 06', '04 04'])
  })

  it('accept a write and keep the old value', () => {
    const { ask, indicator } = startLocked()
    ask(unlock)
    indicator.inject({ kind: 'ignore', register: upper, times: 1 })
    expect(ask(writeUpperSignal)).toBe(accepted)
    expect(indicator.settings()[upper]).toEqual(old)
    expect(ask(writeUpperSignal)).toBe(accepted)
    expect(indicator.settings()[upper]).toEqual(written)
  })
})

describe('what a profile says besides', () => {
  it('one parameter a write: two at once are exception 03', () => {
    const profile = { ...lockedProfile, requests: { ...lockedProfile.requests, oneParameterAWrite: true } }
    const { ask } = startLocked({ profile })
    ask(unlock)
    expect(ask('10 00 64 00 02 04 00 01 00 01')).toBe('90 03')
    expect(ask('10 00 64 00 01 02 00 01')).toBe('10 00 64 00 01')
  })

  it('a setting kept at once survives a power cycle without saving', () => {
    const registers = lockedProfile.registers.map((r) => (r.name === 'scale.upper.signal' ? { ...r, kept: 'at-once' as const } : r))
    const { ask, indicator } = startLocked({ profile: { ...lockedProfile, registers } })
    ask(unlock)
    ask(writeUpperSignal)
    indicator.power(false)
    indicator.power(true)
    expect(indicator.settings()[upper]).toEqual(written)
  })

  it('a setting that takes effect after saving leaves the reading alone until then', () => {
    const registers = lockedProfile.registers.map((r) =>
      r.name === 'scale.upper.signal' ? { ...r, takesEffect: 'after-save' as const } : r,
    )
    const { ask, load, wait } = startLocked({ profile: { ...lockedProfile, registers } })
    load(500)
    wait(1000)
    ask(unlock)
    ask(writeUpperSignal)
    expect(ask('04 00 01 00 02')).toBe('04 04 43 FA 00 00')
    ask(save)
    wait(300)
    expect(ask('04 00 01 00 02')).toBe('04 04 44 7A 00 00')
  })
})
