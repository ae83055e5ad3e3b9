import { describe, expect, it } from 'vitest'
import { notConfirmed, takenOffBy } from '../../../app/evaluation/zero-setting.ts'
import { makePoint } from '../../builders/weighing-point.ts'

const hopper = makePoint({ maximumLoad: '500', scaleInterval: '0.1' })
const pressure = (kind?: string) =>
  makePoint({ unit: 'bar', maximumLoad: '250', scaleInterval: '0.1', loadPath: kind === undefined ? {} : { pressure: kind } })
const taken = (text: string | null, point = hopper) => {
  const result = takenOffBy('zero', point, { text, unit: point.unit })
  if (!result.ok) throw new Error(result.failure)
  return result.value
}

// 4 % after OIML R 76-1:2006, 4.5.1, from memory of its text: regression check.
describe('the zero-setting limit of 500 kg', () => {
  it.each([
    ['20.0', []],
    ['-20.0', []],
    ['20.1', ['above-limit']],
    ['-20.1', ['above-limit']],
  ])('%s kg needs %j', (text, confirm) => {
    expect(taken(text).confirm).toEqual(confirm)
  })

  it('is a matter of the reading in the unit of the point', () => {
    expect(takenOffBy('zero', hopper, { text: '0.3', unit: 't' })).toMatchObject({
      ok: true,
      value: { amount: '300', unit: 'kg', percentOfMaximum: '60.0', confirm: ['above-limit'] },
    })
    expect(takenOffBy('zero', hopper, { text: '0.3', unit: 'bar' })).toMatchObject({ ok: false })
  })
})

describe('a confirmation', () => {
  it('names the amount that is there, to one scale interval', () => {
    const there = taken('150.0')
    expect(notConfirmed('zero', hopper, there)).toMatch(/150 kg off WT-101, 30\.0 % of maximum load.*confirm that amount/)
    expect(notConfirmed('zero', hopper, there, { amount: '150.1' })).toBeNull()
    expect(notConfirmed('zero', hopper, there, { amount: '150.2' })).toMatch(/not the 150\.2 kg that were confirmed/)
  })

  it('is needed where the indicator gives no number', () => {
    const unknown = taken(null)
    expect(unknown).toMatchObject({ amount: null, confirm: ['amount-unknown'] })
    expect(notConfirmed('zero', hopper, unknown)).toContain('what its panel shows')
    expect(notConfirmed('zero', hopper, unknown, { amount: '1.0' })).toBeNull()
  })
})

describe('pressure', () => {
  it('absolute is never zeroed or tared, whatever is read', () => {
    for (const command of ['zero', 'tare'] as const)
      expect(takenOffBy(command, pressure('absolute'), { text: '1.0', unit: 'bar' })).toMatchObject({ ok: false })
  })

  it('of a kind that nobody stated is not zeroed before it is stated', () => {
    expect(takenOffBy('zero', pressure(), { text: '0.1', unit: 'bar' })).toMatchObject({
      ok: false,
      failure: expect.stringContaining('gauge, absolute or differential'),
    })
  })

  it.each([
    ['gauge', 'is vented'],
    ['differential', 'is equalised'],
  ])('%s is zeroed once it is confirmed that it %s, also below the limit', (kind, said) => {
    const point = pressure(kind)
    const there = taken('0.1', point)
    expect(there.confirm).toEqual(['vented'])
    expect(notConfirmed('zero', point, there, { amount: '0.1' })).toContain(said)
    expect(notConfirmed('zero', point, there, { vented: true })).toBeNull()
  })
})
