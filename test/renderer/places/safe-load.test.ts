import { describe, expect, it } from 'vitest'
import { safeLoadOf } from '../../../renderer/places/sensors/safe-load.ts'
import { kilograms, makeCertificate } from '../../builders/weighing-point.ts'

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
