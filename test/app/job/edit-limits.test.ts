import { expect, it } from 'vitest'
import { newlyImpossible } from '../../../app/job/edit-limits.ts'
import { makeCertificate, makePoint } from '../../builders/weighing-point.ts'

it('lets a point be edited that had an impossible value before there was a limit, and takes no other one', () => {
  const cable = (length: string) => ({
    cable: { length: { value: length, unit: 'm' as const }, conductor: { kind: 'awg' as const, gauge: 24 } },
  })
  const old = [makeCertificate({ date: 'March', safeOverloadPercent: '50' })]
  const held = makePoint({ wiring: cable('-5') }, old)
  expect(newlyImpossible({ ...held, name: 'another' }, held)).toBeNull()
  expect(newlyImpossible({ ...held, wiring: cable('-6') }, held)).toMatchObject({ where: 'wiring' })
  expect(newlyImpossible({ ...held, wiring: cable('5') }, held)).toBeNull()
  expect(newlyImpossible(held)).toMatchObject({ where: 'wiring' })
})
