import { expect, it } from 'vitest'
import { hostCalls } from '../../../app/contract/contract.ts'

it('an edit holds only what is to change: no field comes in by a default', () => {
  const request = { pointId: 'wt-101', revision: 3, change: { name: 'Batch hopper B' } }

  expect(hostCalls['point.edit'].request.parse(request)).toEqual(request)
})
