import { describe, expect, it } from 'vitest'
import type { SettingsImage } from '../../../app/job/schema.ts'
import type { Profile } from '../../../app/profile/schema.ts'
import { agrees, differences, encodeIntended, findRegister, interpret, moved } from '../../../app/profile/settings.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'

const image = (p: Profile, words: Record<string, number[]>): SettingsImage => ({
  at: '2026-03-02T09:00:00Z',
  values: interpret(p, new Map(Object.entries(words))),
})
const words = (...args: Parameters<typeof encodeIntended>) => {
  const encoded = encodeIntended(...args)
  return encoded.ok ? Object.fromEntries(encoded.value) : encoded.failure
}
const listed = (...args: Parameters<typeof differences>) => {
  const found = differences(...args)
  return found.ok ? found.value.map((d) => [d.key, d.held, d.intended]) : found.failure
}

describe('decimals held in another register', () => {
  const p = bundledProfiles.get('two-pairs-moving-decimals')!
  // 1234 with one decimal is 123.4; 70000 is 0x00011170.
  const held = image(p, {
    'reading.decimals@1': [1],
    'reading.unit@1': [0],
    'setpoint.1.value@1': [0, 1234],
    'setpoint.2.value@1': [0x0001, 0x1170],
    'setpoint.3.value@1': [0xffff, 0xfffb],
  })

  it('give the values their point', () => {
    expect(held.values['setpoint.1.value@1']?.value).toBe('123.4')
    expect(held.values['setpoint.2.value@1']?.value).toBe('7000.0')
    expect(held.values['setpoint.3.value@1']?.value).toBe('-0.5')
  })

  it('changed, encode every value against what will hold, and are written first', () => {
    const intended = { 'setpoint.1.value@1': '50.05', 'reading.decimals@1': '2' }
    expect(words(p, intended, held)).toEqual({ 'reading.decimals@1': [2], 'setpoint.1.value@1': [0, 5005] })
    expect(listed(p, held, intended)).toEqual([
      ['reading.decimals@1', '1', '2'],
      ['setpoint.1.value@1', '123.4', '50.05'],
    ])
  })

  it('changed, a value that the indicator moves by itself is not written again', () => {
    const intended = { 'reading.decimals@1': '2', 'setpoint.1.value@1': '123.40' }
    expect(words(p, intended, held)).toEqual({ 'reading.decimals@1': [2], 'setpoint.1.value@1': [0, 12340] })
    expect(listed(p, held, intended)).toEqual([['reading.decimals@1', '1', '2']])
  })

  it('changed, it is written again where nothing says that the indicator moves it', () => {
    const silent = { ...p, dependencies: [] }
    expect(listed(silent, held, { 'reading.decimals@1': '2', 'setpoint.1.value@1': '123.4' })).toEqual([
      ['reading.decimals@1', '1', '2'],
      ['setpoint.1.value@1', '123.4', '123.4'],
    ])
  })

  it('changed, equal raw words are not taken for an equal value', () => {
    expect(listed(p, held, { 'reading.decimals@1': '2', 'setpoint.1.value@1': '12.34' })).toContainEqual([
      'setpoint.1.value@1',
      '123.4',
      '12.34',
    ])
  })

  it('too few for a value refuse it by name', () => {
    expect(words(p, { 'reading.decimals@1': '0', 'setpoint.1.value@1': '123.4' }, held)).toMatchObject({
      kind: 'too-many-decimals',
      key: 'setpoint.1.value@1',
    })
  })

  it('moved at the panel, show every value whose meaning moved though its words did not', () => {
    const after = image(p, { 'reading.decimals@1': [2], 'setpoint.1.value@1': [0, 1234], 'setpoint.2.value@1': [0x000a, 0xae60] })
    const before = { ...held, values: Object.fromEntries(Object.entries(held.values).filter(([key]) => key in after.values)) }
    expect(moved(p, before, after).map((d) => [d.key, d.held, d.intended])).toEqual([
      ['reading.decimals@1', '1', '2'],
      ['setpoint.1.value@1', '123.4', '12.34'],
      // 700000 is 0x000AAE60: the same 7000 with other words.
      ['setpoint.2.value@1', '7000.0', '7000.00'],
    ])
  })
})

describe('settings that share a word', () => {
  const p = bundledProfiles.get('capacity-rated-output-function-06')!
  // range 2 mV/V (1), excitation 10 V (1 << 2), filter 0.8 s (8 << 4), unit kN (3 << 8): 0x385.
  const keys = ['input.range@1', 'excitation.voltage@1', 'filter.time@1', 'reading.unit@1']
  const held = image(p, Object.fromEntries(keys.map((key) => [key, [0x385]])))

  it('are each read from their own bits', () => {
    expect(keys.map((key) => held.values[key]?.value)).toEqual(['2 mV/V', '10 V', '0.8', 'kN'])
  })

  it('changed together, make one word', () => {
    expect(words(p, { 'input.range@1': '3 mV/V', 'filter.time@1': '1.5', 'reading.unit@1': 'bar' }, held)).toEqual({
      'input.range@1': [0x4f6],
      'filter.time@1': [0x4f6],
      'reading.unit@1': [0x4f6],
    })
  })

  it('differ only where their own bits differ', () => {
    expect(listed(p, held, { 'input.range@1': '2 mV/V', 'filter.time@1': '1.5' })).toEqual([['filter.time@1', '0.8', '1.5']])
    const after = image(p, Object.fromEntries(keys.map((key) => [key, [0x3f5]])))
    expect(moved(p, held, after).map((d) => d.key)).toEqual(['filter.time@1'])
  })
})

describe('a read-back within a tolerance', () => {
  const p = bundledProfiles.get('pair-table-float32')!
  const r = findRegister(p, 'scale.table.1.signal@1')!
  // 2.0005 is 40 00 08 31, low word first (IEEE 754-2019); within 0.00001 of it.
  const wanted = { words: [0x0831, 0x4000], value: '2.0005' }
  const got = (...w: number[]) => interpret(p, new Map([['scale.table.1.signal@1', w]]))['scale.table.1.signal@1']!

  it('takes a neighbouring value and refuses one further off, and what is no number', () => {
    expect(agrees(r, wanted, got(0x0831, 0x4000))).toBe(true)
    expect(agrees(r, wanted, got(0x0840, 0x4000))).toBe(true)
    expect(agrees(r, wanted, got(0x0900, 0x4000))).toBe(false)
    expect(agrees(r, wanted, got(0, 0x7fc0))).toBe(false)
  })
})

describe('what cannot be put into an indicator', () => {
  const p = bundledProfiles.get('two-pairs-float32-locked')!
  const moving = bundledProfiles.get('two-pairs-moving-decimals')!

  it.each([
    [p, { 'filter.time@1': '99' }, 'Filter time: 99 is outside 0 to 10, which is what the indicator accepts'],
    [
      { ...p, channels: 2 },
      { 'filter.time@1': '99' },
      'Filter time, channel 1: 99 is outside 0 to 10, which is what the indicator accepts',
    ],
    [moving, { 'setpoint.1.value@1': '50' }, 'Set-point 1: its decimals stand in another setting that has not been read'],
  ])('is said in the words of the setting, not by its register: %#', (profile, intended, why) => {
    expect(words(profile as Profile, intended as Record<string, string>, image(profile, {}))).toMatchObject({ why })
  })
})

describe('a unit held in another register', () => {
  const p = bundledProfiles.get('two-pairs-float32-locked')!
  const [unitKey, loadKey, signalKey] = ['reading.unit@1', 'scale.upper.reading@1', 'scale.upper.signal@1'].map((key) =>
    findRegister(p, key) ? key : key.replace('@1', ''),
  ) as [string, string, string]
  const withUnit = (unit: string, load: string) => {
    const encoded = encodeIntended(p, { [unitKey]: unit, [loadKey]: load, [signalKey]: '2' }, { at: '', values: {} })
    if (!encoded.ok) throw new Error(encoded.failure.why)
    return image(p, Object.fromEntries(encoded.value))
  }

  it('changed, leaves what is held in the unit that it is held in', () => {
    const found = differences(p, withUnit('kg', '500'), { [unitKey]: 't', [loadKey]: '0.4', [signalKey]: '1.5' })
    expect(found.ok && found.value.find((d) => d.key === loadKey)).toEqual({
      key: loadKey,
      held: '500',
      heldUnit: 'kg',
      intended: '0.4',
      unit: 't',
    })
    expect(found.ok && found.value.find((d) => d.key === signalKey)).toEqual({ key: signalKey, held: '2', intended: '1.5', unit: 'mV/V' })
  })

  it('put back, or changed at the panel, the same', () => {
    expect(moved(p, withUnit('t', '0.4'), withUnit('kg', '500'))).toContainEqual({
      key: loadKey,
      held: '0.4',
      heldUnit: 't',
      intended: '500',
      unit: 'kg',
    })
  })

  it('not known of what is held, is not taken from what is intended', () => {
    const held = withUnit('kg', '500')
    const { [unitKey]: _, ...values } = held.values
    const found = differences(p, { ...held, values }, { [unitKey]: 't', [loadKey]: '0.4' })
    expect(found.ok && found.value.find((d) => d.key === loadKey)).toMatchObject({ heldUnit: '', unit: 't' })
  })
})
