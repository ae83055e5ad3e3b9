import { describe, expect, it } from 'vitest'
import { type Profile, profile as profileSchema } from '../../../app/profile/schema.ts'
import { lockedProfile, startLocked } from './locked-indicator.ts'

const common = { access: 'read-write', role: 'setting', kept: 'after-save', evidence: 'invented' } as const

/** A model that does everything the other way: no lock, integers low word first, shared words, coils, function 06 only, a watched save, a restart. */
const odd = (): Profile =>
  profileSchema.parse({
    ...lockedProfile,
    id: 'odd-shapes',
    identity: { tests: [], compareWithPanel: [] },
    requests: { ...lockedProfile.requests, writeWith: 'either' },
    registers: [
      {
        name: 'reading.decimals',
        channel: 1,
        table: 'holding',
        address: 0,
        type: 'u16',
        order: 'AB',
        ...common,
        limits: { from: '0', to: '4' },
      },
      {
        name: 'scale.upper.reading',
        channel: 1,
        table: 'holding',
        address: 1,
        type: 'i32',
        order: 'CDAB',
        decimals: { register: 'reading.decimals' },
        ...common,
      },
      {
        name: 'scale.lower.reading',
        channel: 1,
        table: 'holding',
        address: 3,
        type: 'i32',
        order: 'CDAB',
        decimals: { register: 'reading.decimals' },
        ...common,
      },
      {
        name: 'scale.upper.signal',
        channel: 1,
        table: 'holding',
        address: 5,
        type: 'i16',
        order: 'BA',
        decimals: 4,
        unit: 'mV/V',
        ...common,
      },
      {
        name: 'scale.lower.signal',
        channel: 1,
        table: 'holding',
        address: 6,
        type: 'i16',
        order: 'BA',
        decimals: 4,
        unit: 'mV/V',
        ...common,
      },
      {
        name: 'input.range',
        channel: 1,
        table: 'holding',
        address: 7,
        type: 'u16',
        order: 'AB',
        field: { from: 0, width: 2 },
        options: [
          { raw: 0, means: '1 mV/V' },
          { raw: 1, means: '2 mV/V' },
        ],
        ...common,
      },
      {
        name: 'filter.cutoff',
        channel: 1,
        table: 'holding',
        address: 7,
        type: 'u16',
        order: 'AB',
        field: { from: 4, width: 4 },
        options: [
          { raw: 0, means: 'off' },
          { raw: 2, means: '1 Hz' },
        ],
        ...common,
      },
      {
        name: 'control.state',
        table: 'holding',
        address: 20,
        type: 'u16',
        order: 'AB',
        access: 'read',
        role: 'control',
        kept: 'never',
        evidence: 'invented',
      },
      {
        name: 'control.command',
        table: 'holding',
        address: 21,
        type: 'u16',
        order: 'AB',
        access: 'write',
        role: 'control',
        kept: 'never',
        evidence: 'invented',
      },
      { name: 'option.peak', table: 'coil', address: 3, type: 'u16', order: 'AB', ...common },
      {
        name: 'live.over-range',
        channel: 1,
        table: 'discrete',
        address: 0,
        type: 'u16',
        order: 'AB',
        bits: [{ bit: 0, name: 'over-range' }],
        access: 'read',
        role: 'live',
        kept: 'never',
        evidence: 'invented',
      },
      {
        name: 'live.reading',
        channel: 1,
        table: 'input',
        address: 0,
        type: 'i32',
        order: 'CDAB',
        decimals: { register: 'reading.decimals' },
        access: 'read',
        role: 'live',
        kept: 'never',
        evidence: 'invented',
      },
    ],
    dependencies: [{ when: 'reading.decimals', moves: ['scale.upper.reading', 'scale.lower.reading'], evidence: 'invented' }],
    commands: {},
    procedures: {
      save: {
        steps: [
          { write: 'control.command', words: [0xa5] },
          { write: 'control.command', words: [0x5a] },
          { until: 'control.state', equals: 0, withinMs: 400 },
        ],
        evidence: 'invented',
      },
      restart: { steps: [{ write: 'control.command', words: [9] }, { answersAgainWithinMs: 2000 }], evidence: 'invented' },
    },
  })

/** 1000.0 at 2 mV/V: 10 000 with one decimal, low word first; 20 000 with bytes exchanged. Range 2 mV/V. */
const start = (more: Record<string, number[]> = {}) =>
  startLocked({
    profile: odd(),
    words: {
      'reading.decimals@1': [1],
      'scale.upper.reading@1': [10_000, 0],
      'scale.upper.signal@1': [0x204e],
      'input.range@1': [1],
      ...more,
    },
  })

describe('integers with decimals', () => {
  it('scale the reading, low word first: 500.0 at 1 mV/V', () => {
    const { ask, load, wait } = start()
    load(500)
    wait(1000)
    expect(ask('04 00 00 00 02')).toBe('04 04 13 88 00 00')
  })

  it('keep their value when the register of decimals changes', () => {
    const { ask } = start()
    expect(ask('06 00 00 00 02')).toBe('06 00 00 00 02')
    expect(ask('03 00 01 00 02')).toBe('03 04 86 A0 00 01')
  })

  it('stay as written where the same request writes them', () => {
    const { ask } = start()
    expect(ask('10 00 00 00 03 06 00 02 00 64 00 00')).toBe('10 00 00 00 03')
    expect(ask('03 00 01 00 02')).toBe('03 04 00 64 00 00')
  })
})

describe('settings that share a word', () => {
  it('are given one by one', () => {
    const { ask } = start({ 'filter.cutoff@1': [0x20] })
    expect(ask('03 00 07 00 01')).toBe('03 02 00 21')
  })

  it('are all checked when the word is written', () => {
    const { ask } = start()
    expect(ask('06 00 07 00 20')).toBe('06 00 07 00 20')
    expect(ask('06 00 07 00 30')).toBe('86 03')
    expect(ask('06 00 07 00 03')).toBe('86 03')
  })

  it('may be changed one alone with a mask write', () => {
    const { ask } = start()
    expect(ask('16 00 07 FF 0F 00 20')).toBe('16 00 07 FF 0F 00 20')
    expect(ask('03 00 07 00 01')).toBe('03 02 00 21')
  })
})

describe('a filter given as a cut-off frequency', () => {
  it('of 1 Hz follows a step as a first-order low-pass', () => {
    const { ask, load, wait } = start({ 'filter.cutoff@1': [0x20] })
    wait(1000)
    load(1000)
    wait(160)
    // 1 - exp(-2 pi x 0.16) = 0.63407: 634.1
    expect(ask('04 00 00 00 02')).toBe('04 04 18 C5 00 00')
  })
})

describe('coils and discrete inputs', () => {
  it('are read and written', () => {
    const { ask, indicator } = start()
    expect(ask('01 00 03 00 01')).toBe('01 01 00')
    expect(ask('05 00 03 FF 00')).toBe('05 00 03 FF 00')
    expect(ask('01 00 03 00 01')).toBe('01 01 01')
    expect(ask('0F 00 03 00 01 01 00')).toBe('0F 00 03 00 01')
    expect(indicator.settings()['option.peak']).toEqual([0])
  })

  it('tell over range', () => {
    const { ask, load, wait } = start()
    expect(ask('02 00 00 00 01')).toBe('02 01 00')
    load(1500)
    wait(1000)
    expect(ask('02 00 00 00 01')).toBe('02 01 01')
  })

  it('are no function of an indicator that has none: exception 01', () => {
    const { ask } = startLocked()
    expect([ask('01 00 00 00 01'), ask('02 00 00 00 01')]).toEqual(['81 01', '82 01'])
  })
})

describe('procedures', () => {
  it('of two words save only in their order, and say when they are done', () => {
    const { ask, indicator, wait } = start()
    ask('06 00 00 00 02')
    ask('06 00 15 00 5A')
    wait(1000)
    expect(indicator.saved()['reading.decimals@1']).toEqual([1])
    ask('06 00 15 00 A5')
    ask('06 00 15 00 5A')
    expect(ask('03 00 14 00 01')).toBe('03 02 00 01')
    wait(200)
    expect(ask('03 00 14 00 01')).toBe('03 02 00 00')
    expect(indicator.saved()['reading.decimals@1']).toEqual([2])
  })

  it('of two words begin again after a word between them that means nothing', () => {
    const { ask, indicator, wait } = start()
    ask('06 00 00 00 02')
    ask('06 00 15 00 A5')
    expect(ask('06 00 15 00 63')).toBe('86 03')
    ask('06 00 15 00 5A')
    wait(1000)
    expect(indicator.saved()['reading.decimals@1']).toEqual([1])
  })

  it('restart loses what is not saved and is silent for half the time allowed', () => {
    const { ask, indicator, wait } = start()
    ask('06 00 00 00 02')
    expect(ask('06 00 15 00 09')).toBe('06 00 15 00 09')
    expect(indicator.listens()).toBe(false)
    wait(1000)
    expect(indicator.listens()).toBe(true)
    expect(indicator.settings()['reading.decimals@1']).toEqual([1])
  })
})
