import { expect, it } from 'vitest'
import { intendedOn } from '../../../app/job/intended.ts'

it('of an indicator is what its points intend for their own channels and for the whole', () => {
  const points = [
    { channel: 1, intended: { 'filter.time@1': '0.5', 'excitation.voltage': '5 V' } },
    // A file of an earlier program: this point has been on channel 1 before.
    { channel: 2, intended: { 'filter.time@1': '9.9', 'filter.time@2': '0.2' } },
    { channel: 12, intended: { 'filter.time@2': '9.9', 'filter.time@12': '0.1' } },
  ]
  expect(intendedOn(points)).toEqual({
    'filter.time@1': '0.5',
    'filter.time@2': '0.2',
    'filter.time@12': '0.1',
    'excitation.voltage': '5 V',
  })
})
