import { describe, expect, it } from 'vitest'
import { exact, exactDecimal } from '../../../app/quantity/exact.ts'
import { lineFromCertificates } from '../../../app/scaling/certificate-scaling.ts'
import { overloadBy, safeLoadOf } from '../../../app/scaling/safe-load.ts'
import { kilograms, makeCertificate, makePoint } from '../../builders/weighing-point.ts'

const sensor = (capacity: string, percent?: string) => makeCertificate({ capacity: kilograms(capacity), safeOverloadPercent: percent })

describe('the safe load of several sensors', () => {
  it('holds only while they carry equally, and one bears no more than its own', () => {
    expect(safeLoadOf([sensor('500', '150'), sensor('500', '150'), sensor('500', '150')])).toEqual({
      percent: 150,
      provided: 'if all sensors carry equally',
      oneSensor: { value: 750, unit: 'kg' },
    })
  })

  it('of different ones is bound to their capacities, and the weakest is told', () => {
    const safe = safeLoadOf([sensor('500', '150'), sensor('300', '200'), sensor('500', '110')])

    expect(safe).toEqual({ percent: 110, provided: 'if each carries by its capacity', oneSensor: { value: 550, unit: 'kg' } })
  })

  it('is bound to nothing with one sensor', () => {
    expect(safeLoadOf([sensor('500', '150')])?.provided).toBeUndefined()
  })

  it('is not known where one certificate does not state it', () => {
    expect(safeLoadOf([sensor('500', '150'), sensor('500')])).toBeUndefined()
  })
})

describe('an overload', () => {
  const beyond = (load: string, percent?: string, loadPath: Record<string, unknown> = { deadLoad: kilograms('150') }) => {
    const point = makePoint({ maximumLoad: '800', loadPath }, [sensor('500', percent), sensor('500', percent)])
    const line = lineFromCertificates(point)
    if (!line.ok) throw new Error(line.failure.kind)
    const over = overloadBy(point, line.value.line, exact(load))
    return over && [over.beyond, exactDecimal(over.most)]
  }

  // by hand: 150 % of 1000 kg are 1500 kg, of which 150 kg are always on
  it('begins beyond the safe load of the sensors, dead load with it', () => {
    expect(beyond('1350', '150')).toBeUndefined()
    expect(beyond('1350.1', '150')).toEqual(['safe load', '1350'])
  })

  it('goes by the capacity where no safe overload is stated', () => {
    expect(beyond('850')).toBeUndefined()
    expect(beyond('851')).toEqual(['capacity', '850'])
  })

  it('counts a load the other way as much', () => {
    expect(beyond('-1650', '150')).toBeUndefined()
    expect(beyond('-1651', '150')).toEqual(['safe load', '1350'])
  })

  it('counts only the share that the sensors carry', () => {
    const half = { deadLoad: kilograms('0'), sharePercent: '50' }
    expect(beyond('3000', '150', half)).toBeUndefined()
    expect(beyond('3001', '150', half)).toEqual(['safe load', '3000'])
  })
})
