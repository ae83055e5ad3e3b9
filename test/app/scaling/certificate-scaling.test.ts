import { describe, expect, it } from 'vitest'
import type { Certificate, Point } from '../../../app/job/schema.ts'
import { exact, exactDecimal, toDecimal } from '../../../app/quantity/exact.ts'
import { lineFromCertificates } from '../../../app/scaling/certificate-scaling.ts'
import { explainScalingFailure } from '../../../app/scaling/scaling-failure.ts'
import { kilograms, makeCertificate, makePoint, mvPerV } from '../../builders/weighing-point.ts'

const lineOf = (point: Point) => {
  const result = lineFromCertificates(point)
  if (!result.ok) throw new Error(explainScalingFailure(result.failure))
  return result.value.line
}
const signalAt = (point: Point, load: string) => {
  const line = lineOf(point)
  return exactDecimal(line.zeroSignal.add(line.slope.mul(exact(load))))
}
const failureOf = (point: Point) => {
  const result = lineFromCertificates(point)
  if (result.ok) throw new Error('a line was given')
  expect(explainScalingFailure(result.failure)).toMatch(/\.$/)
  return result.failure
}
const warningsOf = (point: Point) => {
  const result = lineFromCertificates(point)
  return result.ok ? result.value.warnings.map((w) => w.kind) : result.failure.kind
}
const withCertificate = (change: Parameters<typeof makeCertificate>[0], point: Record<string, unknown> = {}) =>
  makePoint(point, [makeCertificate(change)])

describe('the exact line of a point', () => {
  // BR-1, BR-2: common practice, no source; worked beside this code (regression check)
  it('of one sensor is that of its certificate', () => {
    expect(signalAt(makePoint(), '350')).toBe('1.40105')
    expect(signalAt(withCertificate({ zeroBalance: mvPerV('0.0123') }), '350')).toBe('1.41335')
  })

  // Case R76-3, formulas of OIML R 76-1:2006 Annex F from memory (regression check): dead-load signal 1.000 mV at 5 V, 2.500 uV in e
  it('of four sensors under a dead load', () => {
    const cells = ['a', 'b', 'c', 'd'].map((serial) => makeCertificate({ serial, ratedOutput: mvPerV('2') }))
    const line = lineOf(makePoint({ maximumLoad: '1000', scaleInterval: '0.5', loadPath: { deadLoad: kilograms('200') } }, cells))
    expect(exactDecimal(line.zeroSignal.mul(exact('5')))).toBe('1')
    expect(exactDecimal(line.slope.mul(exact('0.5')).mul(exact('5000')))).toBe('2.5')
    expect(exactDecimal(line.capacityLoad)).toBe('2000')
  })

  it('takes the mean of rated outputs at the sum of capacities', () => {
    const cells = ['2.0004', '1.9989', '2.0010', '1.9997'].map((output) => makeCertificate({ ratedOutput: mvPerV(output) }))
    expect(exactDecimal(lineOf(makePoint({}, cells)).ratedOutput)).toBe('2')
    expect(signalAt(makePoint({}, cells), '500')).toBe('0.5')
  })

  it('counts only the share that the sensors carry: a 10:1 lever gives a tenth of the signal', () => {
    const lever = makePoint({ loadPath: { sharePercent: '10', deadLoad: kilograms('0') } })
    expect(signalAt(lever, '350')).toBe('0.140105')
    expect(exactDecimal(lineOf(lever).capacityLoad)).toBe('5000')
  })

  it('takes output in mV over the excitation of the certificate, zero balance in percent of rated output', () => {
    const point = withCertificate({
      ratedOutput: { value: '20.015', unit: 'mV' },
      certifiedAt: { value: '10', unit: 'V' },
      zeroBalance: { value: '1', unit: '%' },
    })
    expect(signalAt(point, '0')).toBe('0.020015')
    expect(signalAt(point, '500')).toBe('2.021515')
  })

  it('converts units within a dimension: 1 klbf capacity at a point in lbf', () => {
    expect(
      signalAt(
        makePoint({ unit: 'lbf', loadPath: { deadLoad: { value: '0', unit: 'lbf' } } }, [
          makeCertificate({ capacity: { value: '1', unit: 'klbf' } }),
        ]),
        '500',
      ),
    ).toBe('1.00075')
  })
})

describe('gravity', () => {
  // Case DW-4: common practice, no source; worked beside this code (regression check): 1000 kg set at 9.812526 reads 996.71858 kg at 9.780327
  it('between two places changes what a mass gives', () => {
    const there: Certificate['gravity'] = { value: '9.812526', unit: 'm/s2' }
    const point = withCertificate(
      { gravity: there, capacity: kilograms('1000') },
      { loadPath: { gravityHere: { value: '9.780327', unit: 'm/s2' }, deadLoad: kilograms('0') } },
    )
    const line = lineOf(point)
    expect(toDecimal(line.slope.mul(exact('1000')).div(line.ratedOutput).mul(exact('1000')), 5)).toBe('996.71858')
    expect(warningsOf(point)).toEqual([])
  })

  it('is taken as equal, and said so, where only one of the two is stated', () => {
    expect(warningsOf(withCertificate({ gravity: 'standard' }))).toEqual(['gravity-not-stated'])
    expect(warningsOf(withCertificate({ gravity: 'not-stated' }))).toEqual([])
  })

  // NIST SP 811 (2008) B.8: 1 kgf = 9.80665 N
  it('leads from a capacity in kN to a point in kg only where it is stated', () => {
    const capacity = { value: '4.903325', unit: 'kN' as const }
    expect(failureOf(withCertificate({ capacity }))).toEqual({
      kind: 'gravity-needed',
      whose: 'here',
      unit: 'kN',
      pointUnit: 'kg',
      certificate: 'sensor A1',
    })
    const stated = withCertificate(
      { capacity },
      { loadPath: { gravityHere: { value: '9.80665', unit: 'm/s2' }, deadLoad: kilograms('0') } },
    )
    expect(exactDecimal(lineOf(stated).capacityLoad)).toBe('500')
  })

  it('leads from a capacity in kg to a point in kN by that of the certificate', () => {
    const point = (gravity: Certificate['gravity']) =>
      withCertificate({ gravity }, { unit: 'kN', maximumLoad: '4', loadPath: { deadLoad: { value: '0', unit: 'kN' } } })
    expect(failureOf(point('not-stated'))).toMatchObject({ kind: 'gravity-needed', whose: 'certificate', certificate: 'sensor A1' })
    expect(exactDecimal(lineOf(point('standard')).capacityLoad)).toBe('4.903325')
  })

  it('is refused where it occurs nowhere on Earth', () => {
    expect(failureOf(makePoint({ loadPath: { gravityHere: { value: '981', unit: 'm/s2' } } })).kind).toBe('gravity-absurd')
  })
})

describe('a line is refused', () => {
  it.each([
    ['without a certificate', makePoint({}, []), 'no-certificate'],
    ['without rated output', withCertificate({ ratedOutput: undefined }), 'rated-output-missing'],
    ['with a negative rated output', withCertificate({ ratedOutput: mvPerV('-2.0015') }), 'not-above-nought'],
    ['with a rated output of 20.015 mV/V', withCertificate({ ratedOutput: mvPerV('20.015') }), 'rated-output-absurd'],
    [
      'with a rated output in mV without excitation',
      withCertificate({ ratedOutput: { value: '20', unit: 'mV' } }),
      'excitation-of-certificate-missing',
    ],
    ['with a rated output in kg', withCertificate({ ratedOutput: kilograms('2') }), 'wrong-unit'],
    ['with capacity 0', withCertificate({ capacity: kilograms('0') }), 'not-above-nought'],
    ['with a capacity in bar at a point in kg', withCertificate({ capacity: { value: '100', unit: 'bar' } }), 'unit-of-another-kind'],
    ['with maximum load 0', makePoint({ maximumLoad: '0' }), 'not-above-nought'],
    ['with scale interval 0', makePoint({ scaleInterval: '0' }), 'not-above-nought'],
    ['with a share of 0 %', makePoint({ loadPath: { sharePercent: '0' } }), 'not-above-nought'],
    ['with a dead load in bar', makePoint({ loadPath: { deadLoad: { value: '1', unit: 'bar' } } }), 'unit-of-another-kind'],
  ])('%s', (_, point, kind) => {
    expect(failureOf(point).kind).toBe(kind)
  })
})

describe('warnings', () => {
  it.each([
    ['a trimmed junction box', makePoint({ sensors: { certificates: [makeCertificate()], trimmed: true } }), 'first-guess-trimmed'],
    ['maximum load and dead load beyond capacity', makePoint({ loadPath: { deadLoad: kilograms('1') } }), 'beyond-capacity'],
    ['unlike capacities', makePoint({}, [makeCertificate(), makeCertificate({ capacity: kilograms('1000') })]), 'capacities-differ'],
    ['no dead load', makePoint({ loadPath: {} }), 'dead-load-not-stated'],
    ['no zero balance', withCertificate({ zeroBalance: undefined }), 'zero-balance-not-stated'],
    [
      'unlike output resistances',
      makePoint(
        {},
        ['350', '352'].map((value) => makeCertificate({ outputResistance: { value, unit: 'ohm' } })),
      ),
      'output-resistances-differ',
    ],
  ])('%s', (_, point, kind) => {
    expect(warningsOf(point)).toEqual([kind])
  })

  it('are none where everything is stated and fits', () => {
    expect(warningsOf(makePoint())).toEqual([])
  })
})
