import { describe, expect, it } from 'vitest'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { severalFields } from '../../../renderer/several/several-edit-fields.ts'

const [hopper, , , , press] = practiceJob().points
const read = (id: string, typed: string, point = hopper!, sign: '.' | ',' = '.') =>
  severalFields.find((f) => f.id === id)!.read(typed, point, sign)

describe('one value for several points', () => {
  it('a plain number is in the unit of each point', () => {
    expect(read('scaleInterval', '0.5')).toEqual({ ok: true, value: { scaleInterval: '0.5' } })
    expect(read('scaleInterval', '0.5', press)).toEqual({ ok: true, value: { scaleInterval: '0.5' } })
  })

  // 1 t = 1000 kg and 1 bar = 100 kPa, both exact: NIST SP 811 (2008), appendix B.8.
  it('a unit is converted exactly into that of each point', () => {
    expect(read('maximumLoad', '1,2 t', hopper, ',')).toEqual({ ok: true, value: { maximumLoad: '1200' } })
    expect(read('maximumLoad', '20 kPa', press)).toEqual({ ok: true, value: { maximumLoad: '0.2' } })
  })

  it('what cannot be converted is refused for that point, with the reason', () => {
    expect(read('scaleInterval', '0.5 kg', press)).toMatchObject({ ok: false, failure: expect.stringMatching(/kg/) })
    expect(read('deadLoad', '2 kg', press)).toMatchObject({
      ok: false,
      failure: expect.stringMatching(/^kg is a unit of mass; here stands a pressure/),
    })
    expect(read('scaleInterval', 'half a kilogram')).toMatchObject({ ok: false, failure: expect.stringMatching(/number/) })
  })

  it('what another tolerance came from is not said of the new one', () => {
    const { value, why } = hopper!.tolerance!
    expect(why).not.toBe('')
    expect(read('tolerance', `± ${value}`)).toEqual({ ok: true, value: { tolerance: { value, why } } })
    expect(read('tolerance', '± 1')).toEqual({ ok: true, value: { tolerance: { value: '1', why: '' } } })
  })

  it('the rest of what it belongs to stays', () => {
    expect(read('sharePercent', '50 %')).toEqual({ ok: true, value: { loadPath: { ...hopper!.loadPath, sharePercent: '50' } } })
    expect(read('wires', '4')).toEqual({ ok: true, value: { wiring: { ...hopper!.wiring, wires: 4 } } })
  })
})
