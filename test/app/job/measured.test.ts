import { describe, expect, it } from 'vitest'
import { withShunt, withZero } from '../../../app/job/measured.ts'
import { point } from '../../../app/job/schema.ts'
import { makePoint, mvPerV } from '../../builders/weighing-point.ts'

const mV = (value: string) => ({ value, unit: 'mV' as const })
const volts = (value: string) => ({ value, unit: 'V' as const })
const excitation = volts('4.98')

describe('a signal measured at a point', () => {
  it('is kept with the excitation it was taken at where it is in mV, and with none where it is in mV/V or none is known', () => {
    expect(withZero({ excitation }, mV('0.1'))).toEqual({ excitation, zeroSignal: mV('0.1'), zeroExcitation: excitation })
    expect(withZero({ excitation }, mvPerV('0.1'))).toEqual({ excitation, zeroSignal: mvPerV('0.1') })
    expect(withZero({}, mV('0.1'))).toEqual({ zeroSignal: mV('0.1') })
    expect(withShunt({ excitation }, { measured: { value: '4900', unit: 'uV' } }).shunt).toMatchObject({ excitation })
  })

  it('takes the place of an earlier one together with its excitation', () => {
    const earlier = { zeroSignal: mV('0.1'), zeroExcitation: volts('9.98') }
    expect(withZero({ ...earlier, excitation }, mV('0.2')).zeroExcitation).toEqual(excitation)
    expect(withZero(earlier, mV('0.2'))).toEqual({ zeroSignal: mV('0.2') })
    expect(withZero({ ...earlier, excitation }, mvPerV('0.2'))).toEqual({ excitation, zeroSignal: mvPerV('0.2') })
  })

  it('of a shunt keeps its excitation while only what is stated changes', () => {
    const taken = withShunt({ excitation: volts('9.98') }, { measured: mV('4.9') })
    expect(taken.shunt).toEqual({ stated: mV('0'), measured: mV('4.9'), excitation: volts('9.98') })
    const later = { ...taken, excitation }
    expect(withShunt(later, { stated: mvPerV('0.5') }).shunt).toEqual({ ...taken.shunt, stated: mvPerV('0.5') })
    expect(withShunt(later, { measured: mV('2.4') }).shunt?.excitation).toEqual(excitation)
    expect(withShunt(later, { measured: mvPerV('0.49') }).shunt?.excitation).toBeUndefined()
  })

  it('reads from files that know no such excitation as before', () => {
    const measured = { excitation, zeroSignal: mV('0.1'), shunt: { stated: mV('5'), measured: mV('4.9') } }
    expect(point.parse({ ...makePoint(), measured }).measured).toEqual(measured)
  })
})
