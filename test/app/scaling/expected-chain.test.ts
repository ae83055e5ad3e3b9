import { describe, expect, it } from 'vitest'
import type { Point, SettingsImage } from '../../../app/job/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { exact, toDecimal } from '../../../app/quantity/exact.ts'
import { lineFromCertificates } from '../../../app/scaling/certificate-scaling.ts'
import { expectedChain } from '../../../app/scaling/expected-chain.ts'
import { headroom } from '../../../app/scaling/headroom.ts'
import { readingByHeld } from '../../../app/scaling/held-reading.ts'
import { impliedByHeld } from '../../../app/scaling/implied.ts'
import { explainScalingFailure } from '../../../app/scaling/scaling-failure.ts'
import { kilograms, makeCertificate, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

const held = (values: Record<string, string>): SettingsImage => ({
  at: '2026-03-02T08:00:00Z',
  values: Object.fromEntries(Object.entries(values).map(([key, value]) => [key, { words: [], value }])),
})
const settings = held({
  'input.range@1': '2 mV/V',
  'excitation.voltage@1': '10 V',
  'reading.unit@1': 'kg',
  'scale.lower.signal@1': '0',
  'scale.lower.reading@1': '0',
  'scale.upper.signal@1': '2.0015',
  'scale.upper.reading@1': '500',
})
const ohmic = { inputResistance: { value: '350', unit: 'ohm' as const }, outputResistance: { value: '350', unit: 'ohm' as const } }
const expected = (point: Point, load: string, image: SettingsImage | null = settings) => {
  const chain = expectedChain(point, makeProfile(), image, exact(load))
  if (!chain.ok) throw new Error(explainScalingFailure(chain.failure))
  return chain.value
}
const line = (point: Point) => {
  const scaling = lineFromCertificates(point)
  if (!scaling.ok) throw new Error(explainScalingFailure(scaling.failure))
  return scaling.value
}

describe('expected values along the chain', () => {
  // U = (S F/F_cap + Z) U_exc with 2.0015 mV/V, 10 V, 350 of 500 kg, Z 0.0123 mV/V; definition of rated output (OIML R 60-1:2021, clause 3), by hand
  it('go from the load to the signal at sensor and input, in mV/V and mV', () => {
    const chain = expected(makePoint({}, [makeCertificate({ zeroBalance: mvPerV('0.0123') })]), '350')
    expect(toDecimal(chain.inputSignal, 5)).toBe('1.41335')
    expect(chain.millivolts && toDecimal(chain.millivolts, 4)).toBe('14.1335')
    expect(chain.excitation?.from).toBe('held')
  })

  it('take the excitation held as a number of volts too', () => {
    const profile = makeProfile({
      registers: (r) => (r.name === 'excitation.voltage' ? { options: undefined, decimals: 1, unit: 'V' } : {}),
    })
    const chain = expectedChain(makePoint(), profile, held({ 'excitation.voltage@1': '5.0' }), exact('350'))
    expect(chain.ok && chain.value.excitation && toDecimal(chain.value.excitation.volts, 1)).toBe('5.0')
  })

  it('change when a cable is stated: 24 ohm in the leads of 350 take 6.42 % of the span', () => {
    const bare = makePoint({ wiring: { wires: 4 } }, [makeCertificate(ohmic)])
    const series = [{ what: 'barriers', ohms: { value: '12', unit: 'ohm' }, between: 'indicator-and-box' }]
    const behind = makePoint({ wiring: { wires: 4, series } }, [makeCertificate(ohmic)])
    const [before, after] = [expected(bare, '350'), expected(behind, '350')]
    expect(after.sensorSignal.div(before.sensorSignal).valueOf()).toBeCloseTo(1, 11)
    expect(after.inputSignal.div(before.inputSignal).valueOf()).toBeCloseTo(350 / 374, 11)
    // the held values know nothing of the cable: 350 kg x 350/374
    expect(after.heldReading?.valueOf()).toBeCloseTo(327.5401, 4)
    expect(line(bare).warnings.map((w) => w.kind)).toEqual(['leads-not-counted'])
    expect(line(behind).warnings).toEqual([])
  })

  it('count the dead load by the share, and the zero as it was measured', () => {
    const path = {
      shareSteps: [{ kind: 'lever', loadArm: '1', sensorArm: '4' }],
      structure: [{ name: 'platform', load: kilograms('100') }],
    }
    const point = makePoint({ loadPath: path })
    const chain = expected(point, '300')
    // a quarter of 400 kg on a 500 kg sensor
    expect([chain.onSensors.valueOf(), toDecimal(chain.inputSignal, 6)]).toEqual([100, '0.400300'])
    const measured = expected({ ...point, measured: { zeroSignal: mvPerV('0.2') } }, '300')
    // 75 kg more on the sensor: 0.2 + 2.0015 x 75/500
    expect([measured.zeroFrom, toDecimal(measured.inputSignal, 6)]).toEqual(['measured', '0.500225'])
    // 1 mV taken at 5 V is the same 0.2 mV/V, whatever is measured since
    const [zeroSignal, zeroExcitation, excitation] = [
      { value: '1', unit: 'mV' },
      { value: '5', unit: 'V' },
      { value: '10', unit: 'V' },
    ] as const
    const before = expected({ ...point, measured: { zeroSignal, zeroExcitation, excitation } }, '300')
    expect(toDecimal(before.inputSignal, 6)).toBe('0.500225')
  })

  it('count a head of fluid like a dead load: 10 m of 1000 kg/m3 are 0.980665 bar under standard gravity', () => {
    const head = { height: { value: '10', unit: 'm' }, density: { value: '1000', unit: 'kg/m3' } }
    const bar = (value: string) => ({ value, unit: 'bar' as const })
    const point = makePoint({ unit: 'bar', maximumLoad: '50', scaleInterval: '0.1', loadPath: { pressure: 'gauge', head } }, [
      makeCertificate({ capacity: bar('100') }),
    ])
    expect(line(point).line.deadLoad.valueOf()).toBe(0.980665)
    expect(line(point).warnings.map((w) => w.kind)).toEqual(['gravity-not-stated'])
  })

  it('do not make up a reading where nothing was read', () => {
    expect(expected(makePoint(), '100', null).heldReading).toBeUndefined()
    expect(expected(makePoint(), '100', null).excitation).toBeUndefined()
  })
})

describe('what held values make of a signal', () => {
  const point = makePoint()
  const reading = (profileId: string, image: SettingsImage, signal: string, volts?: string) => {
    const profile = bundledProfiles.get(profileId)
    if (!profile) throw new Error(`no profile ${profileId}`)
    const result = readingByHeld(point, profile, image, exact(signal), volts === undefined ? undefined : exact(volts))
    return result.ok ? result.value.valueOf() : result.failure.kind
  }

  // each line by hand
  it('is the straight line of two pairs', () => {
    expect(reading('two-pairs-float32-locked', settings, '1.00075')).toBe(250)
  })

  it('is slope and intercept', () => {
    expect(reading('slope-intercept-float32', held({ 'scale.slope@1': '250', 'scale.intercept@1': '-20' }), '1')).toBe(230)
  })

  it('lies between the pairs of a table', () => {
    const table = held({
      'scale.table.count@1': '3',
      'scale.table.1.signal@1': '0',
      'scale.table.1.reading@1': '0',
      'scale.table.2.signal@1': '1',
      'scale.table.2.reading@1': '251',
      'scale.table.3.signal@1': '2',
      'scale.table.3.reading@1': '500',
    })
    expect(reading('pair-table-float32', table, '1.5')).toBe(375.5)
  })

  it('needs the excitation where the input is in mV', () => {
    const counts = held({
      'input.range@1': '20 mV',
      'scale.lower.counts@1': '0',
      'scale.lower.reading@1': '0',
      'scale.upper.counts@1': '500000',
      'scale.upper.reading@1': '500',
    })
    expect(reading('counts-millivolt-input', counts, '1')).toBe('signal-in-millivolts')
    // 10 of 20 mV are half of 8 388 607 counts; 500 kg in 500 000 counts
    expect(reading('counts-millivolt-input', counts, '1', '10')).toBe(4194.3035)
  })

  it('leaves the sensitivity at the sensor as certified where the leads explain the lower slope', () => {
    const series = [{ what: 'barriers', ohms: { value: '12', unit: 'ohm' }, between: 'indicator-and-box' }]
    const behind = makePoint({ wiring: { wires: 4, series } }, [makeCertificate(ohmic)])
    const image = held({
      ...Object.fromEntries(Object.entries(settings.values).map(([k, v]) => [k, v.value ?? ''])),
      'scale.upper.signal@1': '1.873061497',
    })
    const implied = impliedByHeld(behind, makeProfile(), image)
    expect(implied.ok && Math.abs(implied.value.differencePercent.valueOf()) < 1e-6).toBe(true)
  })
})

describe('room in the input', () => {
  const room = (point: Point, image: SettingsImage | null = settings, profile = makeProfile()) => {
    const result = headroom(point, profile, image)
    if (!result.ok) throw new Error(explainScalingFailure(result.failure))
    return result.value
  }

  it('is judged with a tenth of the span on top', () => {
    // 2.0015 of 2 mV/V is beyond; of 3.5 it fits with 2.20165, 62.904 %
    expect(room(makePoint()).verdict).toBe('beyond')
    const wide = room(makePoint(), held({ 'input.range@1': '3.5 mV/V' }))
    expect([wide.verdict, wide.limits?.origin, toDecimal(wide.withMargin, 5)]).toEqual(['fits', 'held', '2.20165'])
    // 2.0015 mV/V x 10 V / 5000 intervals; the profile states 0.2 uV
    const atTen = room(makePoint())
    expect([atTen.microvoltsPerInterval?.valueOf(), atTen.leastMicrovolts?.valueOf(), wide.microvoltsPerInterval]).toEqual([
      4.003,
      0.2,
      undefined,
    ])
    expect(wide.usedPercent?.valueOf()).toBeCloseTo(62.9043, 4)
    expect(room(makePoint({ maximumLoad: '490' })).verdict).toBe('margin-cut')
  })

  it('judges an intended range before it is written', () => {
    const point = makePoint({ maximumLoad: '400', intended: { 'input.range@1': '1 mV/V' } })
    const judged = (by: 'held' | 'intended') => {
      const result = headroom(point, makeProfile(), settings, by)
      return result.ok ? [result.value.verdict, result.value.limits?.means] : result.failure
    }
    expect([judged('held'), judged('intended')]).toEqual([
      ['fits', '2 mV/V'],
      ['beyond', '1 mV/V'],
    ])
  })

  it('goes by what is intended before anything was read, and says where no range is known', () => {
    expect(room(makePoint({ intended: { 'input.range@1': '3.5 mV/V' } }), null).limits?.origin).toBe('intended')
    expect(room(makePoint(), null)).toMatchObject({ verdict: 'not-judged', noLimits: expect.stringContaining('not been read') })
    const without = makeProfile({ registers: (r) => (r.name === 'input.range' ? null : {}) })
    expect(room(makePoint(), settings, without)).toMatchObject({
      limits: null,
      noLimits: expect.stringContaining('states no input ranges'),
    })
  })

  it('is in mV for an input in mV, once the excitation is known', () => {
    const profile = bundledProfiles.get('counts-millivolt-input')
    const point = makePoint({ measured: { excitation: { value: '5', unit: 'V' } } })
    const range = held({ 'input.range@1': '20 mV' })
    // 2.0015 mV/V x 5 V
    expect(room(point, range, profile)).toMatchObject({ unit: 'mV', verdict: 'fits', maximum: exact('10.0075') })
    expect(room(makePoint(), range, profile)).toMatchObject({ verdict: 'not-judged', noLimits: expect.stringContaining('measure it') })
  })
})
