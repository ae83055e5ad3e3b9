import { expect, it } from 'vitest'
import type { Point } from '../../../app/job/schema.ts'
import { proposeScaling } from '../../../app/scaling/propose-scaling.ts'
import { explainScalingFailure } from '../../../app/scaling/scaling-failure.ts'
import { spanParts } from '../../../renderer/places/scaling/span-parts.ts'
import { makeCertificate, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

const partsOf = (point: Point) => {
  const proposal = proposeScaling(point, makeProfile())
  if (!proposal.ok) throw new Error(explainScalingFailure(proposal.failure))
  return Object.fromEntries(spanParts(point, proposal.value).map((p) => [p.what, p.percent ?? p.says]))
}

// by hand: half of 2.004 - 2.000 against the mean 2.002
it('takes half the spread of the sensors against their mean', () => {
  const point = makePoint({}, [makeCertificate({ ratedOutput: mvPerV('2.000') }), makeCertificate({ ratedOutput: mvPerV('2.004') })])
  expect(partsOf(point)['Sensors differ']).toBeCloseTo((0.002 / 2.002) * 100, 9)
})

// by hand: 9.8126 / 9.80665 - 1
it('takes gravity here against the certificate, and says where one of them is not stated', () => {
  const here = { gravityHere: { value: '9.8126', unit: 'm/s2' as const } }
  const base = makePoint()
  const at = (gravity: 'standard' | 'not-stated') => makePoint({ loadPath: { ...base.loadPath, ...here } }, [makeCertificate({ gravity })])
  expect(partsOf(at('standard'))['Gravity here ÷ certificate']).toBeCloseTo(0.06067, 4)
  expect(partsOf(at('not-stated'))['Gravity here ÷ certificate']).toBe('not stated')
})

it('says of a trimmed box that the size of the trim is not known', () => {
  const point = makePoint()
  expect(partsOf({ ...point, sensors: { ...point.sensors, trimmed: true } })['Trim in the junction box']).toBe('size not known')
  expect(partsOf(point)['Sensors differ']).toBe('one sensor')
})
