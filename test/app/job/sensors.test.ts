import { describe, expect, it } from 'vitest'
import { resized } from '../../../app/job/sensors.ts'
import { kilograms, makeCertificate, mvPerV } from '../../builders/weighing-point.ts'

describe('how many sensors a point has', () => {
  it('states nothing of the first ones', () => {
    expect(resized([], 2)).toEqual([
      { number: '', date: '', serial: '', gravity: 'not-stated' },
      { number: '', date: '', serial: '', gravity: 'not-stated' },
    ])
  })

  it('takes one more to be of the same model, and leaves open what its own certificate states', () => {
    const first = makeCertificate({
      number: 'C1',
      date: '2026-01-01',
      excitationMaximum: { value: '12', unit: 'V' },
      table: [{ load: kilograms('500'), output: mvPerV('2.0015') }],
    })
    expect(resized([first], 2)).toEqual([
      first,
      {
        number: '',
        date: '',
        serial: '',
        capacity: { value: '500', unit: 'kg' },
        excitationMaximum: { value: '12', unit: 'V' },
        gravity: 'not-stated',
      },
    ])
  })

  it('keeps the first ones of fewer', () => {
    const [a, b] = [makeCertificate({ serial: 'A' }), makeCertificate({ serial: 'B' })]
    expect(resized([a, b], 1)).toEqual([a])
    expect(resized([a, b], 0)).toEqual([])
  })
})
