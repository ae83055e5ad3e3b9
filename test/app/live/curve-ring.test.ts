import { expect, it } from 'vitest'
import { CurveRing } from '../../../app/live/curve-ring.ts'

const sample = (at: number, reading: number, unit = 'kg') => ({ pointId: 'wt-101', unit, at, reading, signal: 0.5 })
const readings = (ring: CurveRing) => ring.all().map((s) => s.reading)

it('holds nothing in another unit than the newest: 500 kg and 0.5 t are no step', () => {
  const ring = new CurveRing(10)
  ring.take(sample(10, 500))
  ring.take(sample(60, 501))
  ring.take(sample(110, 0.5, 't'))
  expect([readings(ring), ring.unit]).toEqual([[0.5], 't'])
})

it('keeps what it has where no unit is known for a moment', () => {
  const ring = new CurveRing(10)
  ring.take(sample(10, Number.NaN, ''))
  ring.take(sample(60, 500))
  ring.take(sample(110, Number.NaN, ''))
  ring.take(sample(160, 501))
  expect(readings(ring)).toEqual([Number.NaN, 500, Number.NaN, 501])
})

it('does not take twice what is told again', () => {
  const ring = new CurveRing(10)
  for (const at of [10, 60, 10, 60, 110]) ring.take(sample(at, at))
  expect(readings(ring)).toEqual([10, 60, 110])
})
