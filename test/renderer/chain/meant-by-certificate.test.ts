import { describe, expect, it } from 'vitest'
import type { Point } from '../../../app/job/schema.ts'
import { meantByCertificate } from '../../../renderer/chain/meant-by-certificate.ts'
import type { PointView } from '../../../renderer/state/point-view.ts'
import { freshLive, holding, makeView } from '../../builders/point-view.ts'
import { kilograms, makeCertificate, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

/** 500 kg on one sensor of 2 mV/V, 0.9 mV/V at the input; held is a line that shows nought at 0.5 mV/V. */
function viewOf(change: Record<string, unknown> = {}, zeroBalance: string | null = '0.1', signal = '0.9', unit: 'mV/V' | 'mV' = 'mV/V') {
  const values = {
    'scale.lower.signal@1': '0.5',
    'scale.lower.reading@1': '0',
    'scale.upper.signal@1': '2.5',
    'scale.upper.reading@1': '500',
    'reading.unit@1': 'kg',
    'excitation.voltage@1': '5 V',
    'input.range@1': '2 mV/V',
  }
  const point: Point = makePoint({ loadPath: { deadLoad: kilograms('50') }, ...change }, [
    makeCertificate({ ratedOutput: mvPerV('2'), zeroBalance: zeroBalance === null ? undefined : mvPerV(zeroBalance) }),
  ])
  const view: PointView = makeView({
    point,
    profile: makeProfile(),
    state: holding(values),
    live: freshLive({
      ...{ pointId: 'p1', at: 0, reading: '100.0', gross: '100.0', unit: 'kg', status: [] },
      ...{ signal, signalUnit: unit, signalOrigin: 'measured' },
    }),
  })
  return meantByCertificate(view)
}
const rounded = (meant: ReturnType<typeof meantByCertificate>) =>
  meant && 'load' in meant ? { ...meant, load: Number(meant.load.toFixed(6)) } : meant

describe('the load that a signal means by the certificates', () => {
  // by hand: (0.9 - 0.1) mV/V x 500 kg / 2 mV/V = 200 kg on the sensor, 50 kg of them dead load
  it('is counted from zero balance and dead load, whatever zero is held', () => {
    expect(rounded(viewOf())).toEqual({ load: 150, zeroFrom: 'certificate' })
  })

  // by hand: (0.9 - 0.4) mV/V x 500 kg / 2 mV/V
  it('is counted from the zero that was measured, where one was', () => {
    expect(rounded(viewOf({ measured: { zeroSignal: mvPerV('0.4') } }))).toEqual({ load: 125, zeroFrom: 'measured' })
    expect(rounded(viewOf({ measured: { zeroSignal: mvPerV('0.4') } }, null))).toEqual({ load: 125, zeroFrom: 'measured' })
  })

  it('takes a zero that is not stated for no zero, and one of nought for nought', () => {
    expect(viewOf({}, null)).toEqual({ noZero: 'zero balance not stated' })
    expect(viewOf({ loadPath: {} })).toEqual({ noZero: 'dead load not stated' })
    expect(viewOf({ loadPath: {} }, null)).toEqual({ noZero: 'zero balance not stated, dead load not stated' })
    // by hand: 0.9 mV/V x 500 kg / 2 mV/V
    expect(rounded(viewOf({ loadPath: { deadLoad: kilograms('0') } }, '0'))).toEqual({ load: 225, zeroFrom: 'certificate' })
  })

  it('is not told of a signal that the input holds back', () => {
    expect(viewOf({}, '0.1', '2')).toEqual({ clipped: true })
    expect(viewOf({}, '0.1', '1.999')).toHaveProperty('load')
  })

  it('asks no dead load of a pressure', () => {
    const bar = (value: string) => ({ value, unit: 'bar' as const })
    const point = makePoint({ unit: 'bar', maximumLoad: '10', scaleInterval: '0.01', loadPath: { pressure: 'gauge' } }, [
      makeCertificate({ capacity: bar('10'), ratedOutput: mvPerV('2'), zeroBalance: mvPerV('0.1') }),
    ])
    expect(rounded(viewOf({ ...point, sensors: point.sensors }))).toEqual({ load: 4, zeroFrom: 'certificate' })
  })

  // by hand: 9 mV at 10 V are 0.9 mV/V
  it('goes by a measured excitation where the input is in mV, never by the nominal one', () => {
    expect(rounded(viewOf({ measured: { excitation: { value: '10', unit: 'V' } } }, '0.1', '9', 'mV'))).toEqual({
      load: 150,
      zeroFrom: 'certificate',
    })
    expect(viewOf({}, '0.1', '9', 'mV')).toBeUndefined()
  })
})
