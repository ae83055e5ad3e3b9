import { describe, expect, it } from 'vitest'
import { rebased } from '../../../app/job/rebased.ts'

const sensors = (...certificates: Record<string, unknown>[]) => ({ sensors: { trimmed: false, certificates } })

describe('a change carried over to what stands now', () => {
  it('keeps what an earlier change put beside it, at every depth', () => {
    const base = sensors({ serial: 'A' }, { serial: 'B' })
    const now = sensors({ serial: 'A', capacity: '500' }, { serial: 'B', capacity: '500' })
    const change = sensors({ serial: 'A', zero: '0.01' }, { serial: 'B', zero: '0.01' })
    expect(rebased(change, base, now)).toEqual(
      sensors({ serial: 'A', zero: '0.01', capacity: '500' }, { serial: 'B', zero: '0.01', capacity: '500' }),
    )
  })

  it('decides where it differs, also by what it leaves out', () => {
    const base = { loadPath: { deadLoad: '5', share: '100' } }
    const now = { loadPath: { deadLoad: '6', share: '50' } }
    expect(rebased({ loadPath: { deadLoad: '7', share: '100' } }, base, now)).toEqual({ loadPath: { deadLoad: '7', share: '50' } })
    expect(rebased({ loadPath: { share: '100' } }, base, now)).toEqual({ loadPath: { share: '50' } })
  })

  it('never puts a number to the unit of another', () => {
    const quantity = (value: string, unit: string) => ({ deadLoad: { value, unit } })
    expect(rebased(quantity('7', 'kg'), quantity('5', 'kg'), quantity('6', 't'))).toEqual(quantity('7', 'kg'))
  })

  it('takes a list of another length whole, and says nothing of what it does not name', () => {
    const base = { ...sensors({ serial: 'A' }), name: 'old' }
    const now = { ...sensors({ serial: 'A', capacity: '500' }), name: 'new' }
    const two = sensors({ serial: 'A' }, { serial: '' })
    expect(rebased(two, base, now)).toEqual(two)
    expect(rebased(sensors(), base, now)).toEqual(sensors())
    expect(rebased({ name: null }, base, now)).toEqual({ name: null })
  })
})
