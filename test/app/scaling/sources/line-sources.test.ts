import { describe, expect, it } from 'vitest'
import { exactDecimal } from '../../../../app/quantity/exact.ts'
import { proposeScaling } from '../../../../app/scaling/propose-scaling.ts'
import { explainScalingFailure } from '../../../../app/scaling/scaling-failure.ts'
import { makeModelProfile } from '../../../builders/model-profile.ts'
import { kilograms, makeCertificate, makePoint, makeProfile, mvPerV } from '../../../builders/weighing-point.ts'

const row = (load: string, output: string) => ({ load: kilograms(load), output: mvPerV(output) })
const propose = (change: Record<string, unknown>, certificates = [makeCertificate()], profile = makeProfile()) => {
  const result = proposeScaling(makePoint({ scaleInterval: '1', ...change }, certificates), profile)
  if (!result.ok) throw new Error(explainScalingFailure(result.failure))
  return result.value
}
const refusal = (change: Record<string, unknown>, certificates = [makeCertificate()]) => {
  const result = proposeScaling(makePoint(change, certificates), makeProfile())
  return result.ok ? 'proposed' : result.failure.kind
}
const upper = (p: ReturnType<typeof propose>) => [p.intended['scale.lower.signal@1'], p.intended['scale.upper.signal@1']]

// Every number by hand
describe('the table of a certificate', () => {
  const bent = makeCertificate({ table: [row('0', '0.01'), row('250', '1.02'), row('500', '2.01')] })

  it('gives the line through no load and maximum load, dead load on', () => {
    expect(upper(propose({ scalingFrom: 'certificate-table' }, [bent]))).toEqual(['0.01', '2.01'])
    // 125 kg dead load are 0.515, 375 kg are 1.515 mV/V
    const dead = propose({ scalingFrom: 'certificate-table', maximumLoad: '250', loadPath: { deadLoad: kilograms('125') } }, [bent])
    expect(upper(dead)).toEqual(['0.515', '1.515'])
  })

  it('fills a table of pairs with its own bend', () => {
    const names = [1, 2, 3].flatMap((i) => [
      [`scale.table.${i}.signal`, { unit: 'mV/V' }],
      [`scale.table.${i}.reading`, {}],
    ])
    const profile = makeModelProfile({ model: 'pair-table', pairs: 3 }, Object.fromEntries(names))
    const { intended } = propose({ scalingFrom: 'certificate-table' }, [bent], profile)
    expect([1, 2, 3].map((i) => intended[`scale.table.${i}.signal@1`])).toEqual(['0.01', '1.02', '2.01'])
  })

  it('of several sensors is their mean at the same part of capacity', () => {
    const other = makeCertificate({ table: [row('0', '0.03'), row('500', '2.03')] })
    expect(upper(propose({ scalingFrom: 'certificate-table', maximumLoad: '1000' }, [bent, other]))).toEqual(['0.02', '2.02'])
  })

  it('is carried on beyond its last row with a warning, and refused where it does not rise', () => {
    const short = makeCertificate({ table: [row('0', '0'), row('250', '1')] })
    const proposal = propose({ scalingFrom: 'certificate-table' }, [short])
    expect(upper(proposal)).toEqual(['0', '2'])
    expect(proposal.warnings.map((w) => w.kind)).toContain('beyond-table')
    expect(refusal({ scalingFrom: 'certificate-table' }, [makeCertificate({ table: [row('0', '1'), row('250', '1')] })])).toBe(
      'source-incomplete',
    )
    expect(refusal({ scalingFrom: 'certificate-table' })).toBe('source-incomplete')
  })
})

describe('signals under known loads', () => {
  const measured = (how?: string) => ({
    scalingFrom: 'measured-loads',
    measured: {
      loads: [
        { load: kilograms('0'), signal: mvPerV('0.1') },
        { load: kilograms('100'), signal: mvPerV('0.5006') },
        { load: kilograms('200'), signal: mvPerV('0.9') },
      ],
      ...(how ? { loadsFit: how } : {}),
    },
  })

  it('give the line of least squares, with what each lies off it', () => {
    const { line, residuals, zeroFrom } = propose(measured())
    expect(zeroFrom).toBe('measured')
    expect([line.slope, line.zeroSignal].map(exactDecimal)).toEqual(['0.004', '0.1002'])
    expect(residuals?.map(exactDecimal)).toEqual(['-0.0002', '0.0004', '-0.0002'])
  })

  it('give the line through the end points where that is chosen', () => {
    const { line, residuals } = propose(measured('end-points'))
    expect([line.slope, line.zeroSignal].map(exactDecimal)).toEqual(['0.004', '0.1'])
    expect(residuals?.map(exactDecimal)).toEqual(['0', '0.0006', '0'])
  })

  // by hand: 0.5 mV / 5 V = 0.1 mV/V, 5 mV / 10 V = 0.5 mV/V; as the pairs in mV/V of the next test
  it('in mV go each by the excitation it was taken at', () => {
    const at = (volts: string) => ({ value: volts, unit: 'V' as const })
    const millivolts = (value: string) => ({ value, unit: 'mV' as const })
    const loads = [
      { load: kilograms('0'), signal: millivolts('0.5'), excitation: at('5') },
      { load: kilograms('100'), signal: millivolts('5'), excitation: at('10') },
    ]
    expect(upper(propose({ scalingFrom: 'measured-loads', measured: { loads } }, []))).toEqual(['0.1', '2.1'])
  })

  it('need no certificate, but two different loads and a signal that rises', () => {
    const two = (second: string, load = '100') => ({
      scalingFrom: 'measured-loads',
      measured: {
        loads: [
          { load: kilograms('0'), signal: mvPerV('0.1') },
          { load: kilograms(load), signal: mvPerV(second) },
        ],
      },
    })
    expect(upper(propose(two('0.5'), []))).toEqual(['0.1', '2.1'])
    expect(refusal(two('0.5', '0'))).toBe('source-incomplete')
    expect(refusal(two('0.05'))).toBe('source-incomplete')
    expect(refusal({ scalingFrom: 'measured-loads' })).toBe('source-incomplete')
  })

  // 0.0004 mV/V are 0.1 kg
  it('warn where one lies off the line by more than half a scale interval', () => {
    const kinds = (interval: string) => propose({ ...measured(), scaleInterval: interval }).warnings.map((w) => w.kind)
    expect(kinds('1')).not.toContain('loads-not-on-a-line')
    expect(kinds('0.1')).toContain('loads-not-on-a-line')
  })
})

describe('a shunt at the sensor', () => {
  const shunt = (stated: string, measured: string) => ({
    scalingFrom: 'shunt',
    measured: { shunt: { stated: mvPerV(stated), measured: mvPerV(measured) } },
  })

  it('carries what the leads take into the line', () => {
    const proposal = propose(shunt('0.8', '0.796'), [makeCertificate({ ratedOutput: mvPerV('2') })])
    expect(upper(proposal)).toEqual(['0', '1.99'])
    expect(proposal.warnings.map((w) => w.kind)).toContain('shunt-shows-change-only')
  })

  it('in mV goes by the excitation that it was taken at', () => {
    const inMillivolts = { stated: mvPerV('0.8'), measured: { value: '3.98', unit: 'mV' as const } }
    const taken = (own: object) => ({ scalingFrom: 'shunt' as const, measured: { shunt: { ...inMillivolts, ...own } } })
    const own = { excitation: { value: '5', unit: 'V' } }
    // by hand: 3.98 mV by 5 V is 0.796 mV/V
    expect(upper(propose(taken(own), [makeCertificate({ ratedOutput: mvPerV('2') })]))).toEqual(['0', '1.99'])
    expect(refusal(taken({}))).toBe('excitation-not-measured')
  })

  it('is refused where it is not measured, or moves the other way', () => {
    expect(refusal({ scalingFrom: 'shunt' })).toBe('source-incomplete')
    expect(refusal(shunt('0.8', '-0.8'))).toBe('source-incomplete')
  })
})
